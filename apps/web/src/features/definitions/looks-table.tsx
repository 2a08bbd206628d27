import type { GenotypeLook } from './definition-documents.js';

/** What each genotype of a gene looks like, and where two traits claim one or none speaks of it. */
export function LooksTable(props: {
  readonly gene: string;
  readonly looks: readonly GenotypeLook[];
}) {
  return (
    <table className="looks">
      <caption className="vh">What each genotype of {props.gene} looks like</caption>
      <thead>
        <tr>
          <th scope="col">Genotype</th>
          <th scope="col">Looks</th>
        </tr>
      </thead>
      <tbody>
        {props.looks.map(({ genotype, looks, gap }) => (
          <tr key={genotype}>
            <th scope="row" className="code">
              {genotype}
            </th>
            <td>
              {looks === 'plain' ? <span className="soft">plain</span> : looks}
              {gap && <b className="gap">{gap}</b>}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
