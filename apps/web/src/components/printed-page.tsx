import { dayWords } from '../lib/date-words.js';

/** The margins of the printed page: program, title, date, page number. Browsers without margin boxes print their own. */
export function PrintedPage(props: {
  readonly program: string;
  readonly title: string;
  readonly isDemo: boolean;
  /** Where the reader has chosen the paper; else it is the printer's. */
  readonly size?: 'A4' | 'letter';
}) {
  const printed = `Printed ${dayWords(new Date())}${props.isDemo ? '; invented: no real animal, place or keeper' : ''}`;
  return (
    <style media="print">{`@page {
      ${props.size ? `size: ${props.size}; margin: 14mm 12mm 16mm;` : ''}
      @top-left { content: ${quoted(props.program)}; font: 9pt sans-serif; }
      @top-right { content: ${quoted(props.title)}; font: 9pt sans-serif; }
      @bottom-left { content: ${quoted(printed)}; font: 9pt sans-serif; white-space: nowrap; }
      @bottom-right { content: "Page " counter(page) " of " counter(pages); font: 9pt sans-serif; white-space: nowrap; }
    }`}</style>
  );
}

/** A string of CSS: what would end it, or the sheet, is written by its number. */
const quoted = (text: string) =>
  `"${text.replace(/["\\<\n]/g, (sign) => `\\${sign.charCodeAt(0).toString(16)} `)}"`;
