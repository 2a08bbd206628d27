import type { ApiFault } from './api-fault.js';

/** The longer side of a photo as it is kept, in pixels: enough to tell the scutes apart on any screen. */
const MOST_PIXELS = 2048;
const QUALITY = 0.85;

/**
 * The picture made smaller, upright, as JPEG: drawn anew, so that nothing but what is to be seen goes along. Null where
 * this browser cannot read the file.
 */
export async function shrinkPicture(file: File, mostPixels = MOST_PIXELS): Promise<File | null> {
  let picture: ImageBitmap;
  try {
    picture = await createImageBitmap(file, { imageOrientation: 'from-image' });
  } catch {
    return null;
  }
  const { width, height } = picture;
  const scale = Math.min(1, mostPixels / Math.max(width, height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(width * scale));
  canvas.height = Math.max(1, Math.round(height * scale));
  const pen = canvas.getContext('2d');
  if (!pen) return null;
  // What is transparent becomes white, as JPEG has no other way.
  pen.fillStyle = '#fff';
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/jpeg', QUALITY));
  if (!blob) return null;
  const name = `${file.name.replace(/\.[^.]*$/, '')}.jpg`;
  return new File([blob], name, { type: 'image/jpeg', lastModified: file.lastModified });
}

/** The picture as an address that the page can show at once. */
export function pictureAddress(file: File): Promise<string> {
  return new Promise((done, failed) => {
    const reader = new FileReader();
    reader.onload = () => done(String(reader.result));
    reader.onerror = () => failed(reader.error);
    reader.readAsDataURL(file);
  });
}

/** The picture that an address of `pictureAddress` holds. */
export function pictureOf(address: string, name: string): File {
  const bytes = Uint8Array.from(atob(address.slice(address.indexOf(',') + 1)), (letter) =>
    letter.charCodeAt(0),
  );
  return new File([bytes], name, { type: 'image/jpeg' });
}

export const UNREADABLE: ApiFault = {
  code: 'BAD_USER_INPUT',
  message: 'This browser cannot read that file as a picture.',
  remedy: 'Save it as JPEG and choose it again; a phone does that under its camera settings.',
};
