import { Args, ID, Query, Resolver } from '@nestjs/graphql';
import { Access, Right } from '../../auth/access.js';
import type { GenesAnswer } from '../../compute/genes-task.js';
import { Database } from '../../db/database.js';
import { inProgram, type ProgramAccess } from '../../db/in-program.js';
import { UserError } from '../../graphql/errors.js';
import { housedAnimals, isFounder, sexOf } from '../../snapshot/findings.js';
import type { Snapshot } from '../../snapshot/snapshot.js';
import { Snapshots } from '../../snapshot/snapshots.js';
import { today } from '../../snapshot/today.js';
import { Animal } from '../animals/animal.types.js';
import { certainCopiesOf } from '../genes/gene-finding.js';
import { GenesOfProgram } from '../genes/genes-of-program.js';
import { Kin } from '../lineage/kin.js';
import type { PenConflicts, PenFlag } from '../pens/pens.types.js';
import { PensOfProgram } from '../pens/pens-of-program.js';
import { listed } from '../records/entry-book.js';
import { dueItems } from '../season/due-items.js';
import { ProgramHealth, Today, type TodayItem } from './health.types.js';

const MOST_DECISIONS = 7;
const MOST_NAMED = 5;

@Resolver()
export class HealthResolver {
  constructor(
    private readonly database: Database,
    private readonly snapshots: Snapshots,
    private readonly kin: Kin,
    private readonly genes: GenesOfProgram,
    private readonly pens: PensOfProgram,
  ) {}

  @Access('READER')
  @Query(() => ProgramHealth, {
    description: 'Founders, diversity and inbreeding of the living group',
  })
  async programHealth(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
  ): Promise<ProgramHealth> {
    const snapshot = await this.snapshots.current(right);
    const group = living(snapshot);
    if (group.length === 0) {
      throw new UserError(
        'CONFLICT',
        'There are no animals yet, so nothing can be said of the group.',
        {
          remedy: 'Bring in a file, or add the first animal.',
        },
      );
    }
    const found = await this.kin.health(snapshot, group);
    const byKin = group
      .map((row, at) => ({
        animal: new Animal(snapshot, row),
        meanKinship: found.kinshipOfEach[at],
      }))
      .sort((a, b) => b.meanKinship - a.meanKinship);
    const [top] = found.founders;
    const most = top
      ? `${snapshot.animals.codes[top.row]} gave ${Math.round(top.share * 100)} % of their genes`
      : '';
    return {
      ...found,
      founders: found.founders.map(({ row, share }) => ({
        animal: new Animal(snapshot, row),
        share,
      })),
      genomeEquivalents: found.equivalents.byRetention,
      wellKept: byKin.slice(0, MOST_NAMED),
      // In a group of a few nobody stands on both lists.
      wouldBeMissed: byKin.slice(MOST_NAMED).slice(-MOST_NAMED).reverse(),
      sentence: `The ${group.length} animals here hold ${Math.round(found.geneDiversity * 100)} % of the diversity the founders brought, as much as ${found.effectiveFounders.toFixed(1)} equal founders would; ${most}.`,
      assumptions: [
        'The living group is taken as the animals that are in a pen; without pens, as all of them.',
        'Founders are taken as unrelated to each other.',
        ...(found.equivalents.exact
          ? []
          : ['Approximate: genes lost by chance were counted in 500 simulated descents.']),
      ],
    };
  }

  @Access('READER')
  @Query(() => Today, { description: 'The few things that want a decision' })
  async today(
    @Right() right: ProgramAccess,
    @Args('programId', { type: () => ID }) _programId: string,
  ): Promise<Today> {
    const snapshot = await this.snapshots.current(right);
    if (snapshot.animals.count === 0) {
      return {
        sentence: 'There are no animals yet: bring in a file, or add the first.',
        decisions: [],
        unknown: [],
        areGenesPending: false,
      };
    }
    const [conflicts, genes] = await Promise.all([
      this.pens.conflicts(snapshot),
      this.genes.soonFor(snapshot),
    ]);
    const decisions: TodayItem[] = [];
    if (genes && !genes.isPossible) {
      decisions.push({
        kind: 'genes',
        title: 'Records contradict each other',
        sentence: `${genes.clashes.length} ${genes.clashes.length === 1 ? 'set' : 'sets'} of colour records cannot all be true.`,
        link: '/genes',
        severity: 'DANGER',
      });
    }
    decisions.push(...penDecisions(conflicts));
    for (const due of dueItems(snapshot, today())) decisions.push(due);
    const waiting = await inProgram(this.database, right, (tx) =>
      tx.undecidedEntry.count({ where: { programId: right.programId } }),
    );
    if (waiting > 0) {
      decisions.push({
        kind: 'inbox',
        title: `${waiting} yard ${waiting === 1 ? 'entry waits' : 'entries wait'} for a decision`,
        sentence: 'They could not be written as they were sent.',
        link: '/inbox',
        severity: 'WARNING',
      });
    }
    decisions.sort(
      (a, b) =>
        ['DANGER', 'WARNING', 'NOTE'].indexOf(a.severity) -
        ['DANGER', 'WARNING', 'NOTE'].indexOf(b.severity),
    );
    const shown = decisions.slice(0, MOST_DECISIONS);
    return {
      sentence:
        decisions.length === 0
          ? 'Nothing wants a decision today.'
          : `${decisions.length} ${decisions.length === 1 ? 'thing wants' : 'things want'} a decision${decisions.length > shown.length ? `; the ${shown.length} that press most` : ''}.`,
      decisions: shown,
      unknown: unknowns(snapshot, genes),
      areGenesPending: genes === null,
    };
  }
}

function living(snapshot: Snapshot): number[] {
  const housed = housedAnimals(snapshot);
  if (housed.size > 0) return [...housed];
  return [...snapshot.animals.ids.keys()].filter((i) => !snapshot.season.gone.has(i));
}

function unknowns(snapshot: Snapshot, genes: GenesAnswer | null): string[] {
  const { animals } = snapshot;
  const positions = [...animals.ids.keys()];
  const unsexed = positions.filter((i) => sexOf(snapshot, i) === 'UNKNOWN').length;
  const open = positions.filter(
    (i) => !isFounder(snapshot, i) && new Animal(snapshot, i).sire.candidates[0]?.probability !== 1,
  ).length;
  const list = [
    unsexed > 0 ? `The sex of ${unsexed} animals is not recorded.` : '',
    open > 0 ? `The father of ${open} animals is not certain.` : '',
  ];
  for (const locus of genes ? snapshot.loci : []) {
    const maybe = positions.filter(
      (i) => genes && certainCopiesOf(genes, snapshot, i, locus.code) === null,
    ).length;
    if (maybe > 0)
      list.push(`Whether they carry ${locus.name} is not certain for ${maybe} animals.`);
  }
  return list.filter(Boolean);
}

/** Dangers by pen and rule: ten pairs of males in one pen are one thing to do. Warnings by rule: the same advice holds for every pen. */
function penDecisions({ flags, rules, day }: PenConflicts): TodayItem[] {
  const groups = new Map<string, PenFlag[]>();
  for (const flag of flags) {
    if (flag.severity === 'NOTE') continue;
    const key = flag.severity === 'DANGER' ? `${flag.rule} ${flag.pen.name}` : flag.rule;
    groups.set(key, [...(groups.get(key) ?? []), flag]);
  }
  return [...groups.values()].map((group): TodayItem => {
    const [flag] = group;
    const when = flag.possibleFrom <= day ? 'Now' : `From ${flag.possibleFrom}`;
    const pens = [...new Set(group.map(({ pen }) => pen.name))];
    if (pens.length > 1) {
      const { title } = rules.find(({ rule }) => rule === flag.rule) ?? { title: flag.message };
      return {
        kind: 'pens',
        title: `${title}: ${pens.length} pens`,
        sentence: `${when}: ${listed(pens)}. ${flag.remedy}`,
        link: '/pens',
        severity: flag.severity,
      };
    }
    const isNamed = flag.message.includes(flag.pen.name);
    return {
      kind: 'pens',
      title: isNamed ? flag.message : `${flag.pen.name}: ${flag.message}`,
      sentence: `${when}${group.length > 1 ? `, and ${group.length - 1} more like it` : ''}. ${flag.remedy}`,
      link: `/pens#${encodeURIComponent(flag.pen.name)}`,
      severity: flag.severity,
    };
  });
}
