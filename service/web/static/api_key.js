// The API key, where the service asks for one: typed once, kept for this tab alone, sent with what is sent or deleted. What is only
// read needs none here: a check that these pages send may be read by whoever has its address.

const KEPT_AS = "api-key";

/** '' where there is none. */
export function keptKey() {
  try {
    return sessionStorage.getItem(KEPT_AS) ?? "";
  } catch {
    return ""; // the browser keeps nothing
  }
}

let typed = keptKey();

export function keyHeaders(method = "GET") {
  return typed && method !== "GET" ? { Authorization: `Bearer ${typed}` } : {};
}

/** `field` holds the key; what is typed there is taken at once. */
export function takeKey(field) {
  field.value = typed;
  field.addEventListener("input", () => {
    typed = field.value.trim();
    try {
      sessionStorage.setItem(KEPT_AS, typed);
    } catch {
      // it is sent all the same, from this page
    }
  });
}
