import { type Cell, csvText } from '../lib/csv-text.js';
import './take-along.css';

/**
 * Under a table or a drawing: its figures as a CSV file, unrounded. `rows` is asked for when the
 * button is pressed, so a table nobody takes along costs nothing.
 */
export function TakeAlong(props: {
  /** Name of the file, without `.csv`. */
  readonly file: string;
  /** Of which figures, for those who hear the page. */
  readonly of: string;
  readonly columns: readonly string[];
  readonly rows: () => readonly (readonly Cell[])[];
}) {
  const save = () => {
    // The mark at the start tells spreadsheets that the text is UTF-8.
    const text = `\uFEFF${csvText(props.columns, props.rows())}`;
    const address = URL.createObjectURL(new Blob([text], { type: 'text/csv;charset=utf-8' }));
    const link = document.createElement('a');
    link.href = address;
    link.download = `${props.file.replace(/[^\w.-]+/g, '-')}.csv`;
    link.click();
    URL.revokeObjectURL(address);
  };
  return (
    <p className="take-along">
      <button type="button" className="plain-act" onClick={save}>
        Take these figures along<span className="vh">: {props.of}</span>
        <span className="soft"> (CSV)</span>
      </button>
    </p>
  );
}
