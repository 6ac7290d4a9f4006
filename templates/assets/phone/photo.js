// Scales a photo down on the phone and writes it anew as JPEG, so that little is sent and nothing but the picture (no place, no camera) is kept.

const LONGEST_PX = 1600;
const QUALITY = 0.8;

/** A photo that can't be used, as a message of the catalogue. */
export class NoPhoto extends Error {
  constructor(key) {
    super(key);
    this.key = key;
  }
}

async function picture(file) {
  try {
    return await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch {
    throw new NoPhoto("photo-unreadable");
  }
}

export async function scaled(file) {
  const bitmap = await picture(file);
  const scale = Math.min(1, LONGEST_PX / Math.max(bitmap.width, bitmap.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(bitmap.width * scale));
  canvas.height = Math.max(1, Math.round(bitmap.height * scale));
  canvas.getContext("2d").drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", QUALITY));
  if (!blob) throw new NoPhoto("photo-unreadable");
  return blob;
}
