import { inbreedingTask } from './inbreeding-task.js';
import { programFileTask } from './program-file-task.js';

// One entry a kind of computation. A task gets plain data and shared columns, and answers
// plain data; it never sees the database.
const tasks = { inbreeding: inbreedingTask, programFile: programFileTask };

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
