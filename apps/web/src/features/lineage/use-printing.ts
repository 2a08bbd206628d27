import { useEffect, useState } from 'react';
import { flushSync } from 'react-dom';

/**
 * Whether the page is on its way to paper. Told before the browser counts its sheets: a style
 * query for print changes after that, and what is then drawn is cut off.
 */
export function usePrinting(): boolean {
  const [isPrinting, setPrinting] = useState(false);
  useEffect(() => {
    const begin = () => flushSync(() => setPrinting(true));
    const end = () => setPrinting(false);
    window.addEventListener('beforeprint', begin);
    window.addEventListener('afterprint', end);
    return () => {
      window.removeEventListener('beforeprint', begin);
      window.removeEventListener('afterprint', end);
    };
  }, []);
  return isPrinting;
}
