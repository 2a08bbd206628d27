import { create } from 'qrcode';

/** A QR code of an address, drawn as one path, with the quiet margin of four modules that the standard asks for. */
export function Qr({ address, what }: { readonly address: string; readonly what: string }) {
  const { size, data } = create(address, { errorCorrectionLevel: 'M' }).modules;
  const path = Array.from(data.keys())
    .filter((k) => data[k])
    .map((k) => `M${k % size} ${Math.floor(k / size)}h1v1h-1z`)
    .join('');
  return (
    <svg
      className="qr"
      viewBox={`-4 -4 ${size + 8} ${size + 8}`}
      role="img"
      aria-label={`Code that opens ${what}`}
      shapeRendering="crispEdges"
    >
      <path d={path} />
    </svg>
  );
}
