import { buyerFileTask } from './buyer-file-task.js';
import { clashesTask } from './clashes-task.js';
import { crossTask } from './cross-task.js';
import { fathersTask } from './fathers-task.js';
import { genesTask } from './genes-task.js';
import { inbreedingTask } from './inbreeding-task.js';
import { jointParentsTask } from './joint-parents-task.js';
import { healthTask, lineageTask, pairsTask, pathsTask } from './kin-task.js';
import { ifMovedTask, penConflictsTask } from './pens-task.js';
import { mendFileTask, programFileTask } from './program-file-task.js';
import { bestMatesTask, rankTask } from './rank-task.js';
import { explainTask, nextStepsTask, whyFatherTask, whyGenotypeTask } from './why-task.js';

// One entry a kind of computation. A task gets plain data and shared columns, and answers
// plain data; it never sees the database.
const tasks = {
  bestMates: bestMatesTask,
  clashes: clashesTask,
  buyerFile: buyerFileTask,
  cross: crossTask,
  fathers: fathersTask,
  explain: explainTask,
  genes: genesTask,
  health: healthTask,
  ifMoved: ifMovedTask,
  inbreeding: inbreedingTask,
  jointParents: jointParentsTask,
  lineage: lineageTask,
  mendFile: mendFileTask,
  nextSteps: nextStepsTask,
  pairs: pairsTask,
  paths: pathsTask,
  penConflicts: penConflictsTask,
  programFile: programFileTask,
  rank: rankTask,
  whyFather: whyFatherTask,
  whyGenotype: whyGenotypeTask,
};

export type Tasks = typeof tasks;
export type TaskName = keyof Tasks;

export interface TaskCall {
  readonly name: TaskName;
  readonly input: unknown;
}

export default function run({ name, input }: TaskCall): unknown {
  const task = tasks[name] as (given: unknown) => unknown;
  return task(input);
}
