declare module 'qrcode' {
  /** The modules of a QR code (ISO/IEC 18004), row by row: 1 is dark. */
  export function create(
    text: string,
    options: { errorCorrectionLevel: 'L' | 'M' | 'Q' | 'H' },
  ): { modules: { size: number; data: Uint8Array } };
}
