/** A small preference kept on this device; null where nothing is kept or storage is closed. */
export function recall(name: string): string | null {
  try {
    return localStorage.getItem(name);
  } catch {
    return null;
  }
}

/** Keeps a preference on this device, or forgets it (null). Without storage it lasts the visit. */
export function remember(name: string, value: string | null): void {
  try {
    if (value === null) localStorage.removeItem(name);
    else localStorage.setItem(name, value);
  } catch {
    // A preference that cannot be kept is no fault of the reader's.
  }
}
