import { WhyDrawer, WhyPart } from '../../components/why-drawer.js';
import type { JsonValue } from '../../lib/graphql.js';

interface Change {
  readonly table: string;
  readonly rowId: string;
  readonly before: JsonValue | null;
  readonly after: JsonValue | null;
}

/** What an act changed, field by field: as it was, as it is. */
export function ChangesDrawer(props: { readonly of: string; readonly changes: readonly Change[] }) {
  return (
    <WhyDrawer of={props.of} label="What changed">
      {props.changes.map((change) => (
        <WhyPart key={change.table + change.rowId} name={`${rowWords(change)}`}>
          <table className="changes">
            <caption className="vh">{rowWords(change)}</caption>
            <thead>
              <tr>
                <th scope="col">Field</th>
                <th scope="col">Was</th>
                <th scope="col">Is</th>
              </tr>
            </thead>
            <tbody>
              {changedFields(change).map(([field, was, is]) => (
                <tr key={field}>
                  <th scope="row">{fieldWords(field)}</th>
                  <td>{valueWords(was)}</td>
                  <td>{valueWords(is)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </WhyPart>
      ))}
    </WhyDrawer>
  );
}

function rowWords({ table, before, after }: Change): string {
  const act = before === null ? 'written' : after === null ? 'struck out' : 'changed';
  return `${fieldWords(table)}, ${act}`;
}

/** `hatched_on` and `hatchedOn` both as `Hatched on`. */
function fieldWords(name: string): string {
  const words = name
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .replaceAll('_', ' ')
    .toLowerCase();
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Fields whose value differs, with both values; keys left out. */
function changedFields({ before, after }: Change): [string, JsonValue, JsonValue][] {
  const was = asFields(before);
  const is = asFields(after);
  return [...new Set([...Object.keys(was), ...Object.keys(is)])]
    .map((field): [string, JsonValue, JsonValue] => [field, was[field] ?? null, is[field] ?? null])
    .filter(([field, old, now]) => !isKey(field) && JSON.stringify(old) !== JSON.stringify(now));
}

/** Keys tie rows together for the machine and say nothing to a reader. */
const isKey = (field: string): boolean => /^id$|Id$|_id$/.test(field);

function asFields(value: JsonValue | null): { [field: string]: JsonValue } {
  return value !== null && typeof value === 'object' && !Array.isArray(value) ? value : {};
}

function valueWords(value: JsonValue): string {
  if (value === null || value === '') return 'nothing';
  return typeof value === 'object' ? JSON.stringify(value) : String(value);
}
