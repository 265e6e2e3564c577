// <check-upload> as a module: import { CheckUpload } from "https://print.example/static/check-upload.mjs"
// It is one file with the classic script, and the service is where this module came from.
import "./check-upload.js";

export const CheckUpload = customElements.get("check-upload");
CheckUpload.service = new URL(import.meta.url).origin;
export default CheckUpload;
