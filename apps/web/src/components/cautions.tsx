import { Caution } from './caution.js';

/** The server's cautions, harm first, each with its source. */
export function Cautions(props: {
  readonly cautions: readonly {
    readonly lead: string;
    readonly text: string;
    readonly source: string;
    readonly isHarm: boolean;
  }[];
}) {
  const harmFirst = props.cautions.toSorted((a, b) => Number(b.isHarm) - Number(a.isHarm));
  return harmFirst.map((caution) => (
    <Caution
      key={caution.lead + caution.text}
      kind={caution.isHarm ? 'harm' : 'unknown'}
      lead={caution.lead}
      source={caution.source}
    >
      {caution.text}
    </Caution>
  ));
}
