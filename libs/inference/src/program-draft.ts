import { invariant } from '@scutewright/basics';
import { AnimalEvidence } from './animal-evidence.js';
import type { Block } from './block.js';
import type { CompileSettings } from './compile-settings.js';
import type { GenotypeReader, RecordReader } from './compiled-program.js';
import type { Evidence } from './evidence.js';
import { NetworkBuilder } from './network-builder.js';
import type { Find, Program } from './program.js';

/** What a program is compiled into, as it grows: each file that adds a subject writes into it. */
export class ProgramDraft {
  readonly builder = new NetworkBuilder();
  readonly blocks: readonly Block[];
  readonly own: AnimalEvidence;
  /** By animal that may be of one or another clutch. */
  readonly findOf = new Map<number, Find>();
  readonly readers: GenotypeReader[] = [];
  readonly recordReaders: RecordReader[] = [];
  /** See `CompiledProgram`. */
  readonly sexes = new Map<number, number>();
  readonly doubtful = new Map<number, number[]>();
  logConstant = 0;
  private readonly variables: Int32Array;

  constructor(
    readonly program: Program,
    readonly evidence: Evidence,
    readonly settings: CompileSettings,
  ) {
    this.blocks = evidence.blocks;
    this.variables = new Int32Array(program.sex.length * this.blocks.length).fill(-1);
    for (const find of program.finds) {
      for (const animal of find.animals) this.findOf.set(animal, find);
    }
    this.own = new AnimalEvidence(program, evidence, settings);
  }

  setVariable(animal: number, block: number, variable: number): void {
    this.variables[animal * this.blocks.length + block] = variable;
  }

  /** -1 where the animal is folded or does not take part. */
  findVariable = (animal: number, block: number): number =>
    this.variables[animal * this.blocks.length + block];

  variableOf = (animal: number, block: number): number => {
    const variable = this.findVariable(animal, block);
    invariant(variable >= 0, 'a parent of an animal that takes part takes part itself');
    return variable;
  };
}
