// Ids that this phone makes: UUID version 7 (RFC 9562, 5.7), so that what was done later sorts later, also within one millisecond.

let last = 0;
let count = 0;

export function newId(now = Date.now()) {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  count = now > last ? 0 : count + 1;
  last = Math.max(now, last);
  let rest = last;
  for (let at = 5; at >= 0; at -= 1) {
    bytes[at] = rest % 256;
    rest = Math.floor(rest / 256);
  }
  // The 12 bits after the version count within the millisecond (method 1 of section 6.2).
  bytes[6] = 0x70 | ((count >> 8) & 0x0f);
  bytes[7] = count & 0xff;
  bytes[8] = 0x80 | (bytes[8] & 0x3f);
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

export async function sha256(bytes) {
  const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(sum, (byte) => byte.toString(16).padStart(2, "0")).join("");
}
