// The shop's own script: where the token has run out, the shop's backend is asked for another.
const upload = document.querySelector("check-upload");
upload.renewToken = async () => {
  const answer = await fetch(`/upload-tokens/${upload.dataset.product}`, { method: "POST" });
  return (await answer.json()).token;
};
