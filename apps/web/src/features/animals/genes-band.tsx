import { Band } from '../../components/band.js';
import { FaultNote } from '../../components/fault-note.js';
import { GeneFindings } from '../../components/gene-finding.js';
import { Skeleton } from '../../components/skeleton.js';
import { Word } from '../../components/word.js';
import { geneRowFields } from '../../lib/answer-fragments.js';
import { graphql } from '../../lib/graphql.js';
import { useRead } from '../../lib/use-read.js';

const GenesOfAnimalQuery = graphql(
  `
    query GenesOfAnimal($programId: ID!, $animalId: ID!) {
      genotypeOdds(programId: $programId, animalIds: [$animalId]) {
        rows {
          ...GeneRowFields
        }
      }
    }
  `,
  [geneRowFields],
);

/** What the animal carries; asked for after the plain facts, for it is weighed from all records together. */
export function GenesBand(props: { readonly programId: string; readonly animalId: string }) {
  const { data, faults, again } = useRead(GenesOfAnimalQuery, { ...props });
  const [row] = data?.genotypeOdds.rows ?? [];
  if (row && row.findings.length === 0) return null;
  return (
    <Band
      title="What it carries"
      note={
        <>
          By all records together. <Word means="possible het" />, <Word means="proven" />
        </>
      }
    >
      <FaultNote faults={faults} again={again} />
      {!row && faults.length === 0 && <Skeleton lines={4} what="what it carries" />}
      {row && <GeneFindings animalId={props.animalId} findings={row.findings} />}
    </Band>
  );
}
