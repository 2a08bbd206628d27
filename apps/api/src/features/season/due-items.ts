import { parsePartialDate } from '@scutewright/basics';
import { presentStays } from '../../snapshot/findings.js';
import { NO_DAY, NONE, type Snapshot, type StayRow } from '../../snapshot/snapshot.js';
import { surelyOverlap } from '../../snapshot/stay-days.js';
import { clutchSheet, youngByClutch } from './clutch-sheet.js';

/** Something the season asks for: one sentence, and where it is done. */
export interface DueItem {
  readonly kind: 'hatching' | 'eggs' | 'colour' | 'unseen' | 'stays' | 'quarantine';
  readonly title: string;
  readonly sentence: string;
  /** Address within the program. */
  readonly link: string;
  readonly severity: 'WARNING' | 'NOTE';
}

const MONTH = 365.25 / 12;
/** Days before a hatch window opens from which it is shown, and days behind it after which open eggs are asked about. Chosen by us. */
const AHEAD = 21;
const OVERDUE = 14;
/** Nobody is reminded of eggs that were laid, or young that hatched, longer ago than this. Chosen by us: no nagging. */
const LATELY = { laid: 30, hatched: 730 };
const UNSEEN_DAYS = 365;
/** Usual length of a quarantine, as in the rule of pens; none is published for tortoises: ask a veterinarian. */
const QUARANTINE_DAYS = 30;

/** What the season asks for on a day, most pressing first. One pass over the snapshot. */
export function dueItems(snapshot: Snapshot, day: number): DueItem[] {
  return [
    ...overlappingStays(snapshot),
    ...clutchesDue(snapshot, day),
    ...colourChecksDue(snapshot, day),
    ...quarantinesEnding(snapshot, day),
    ...unseen(snapshot, day),
  ];
}

function clutchesDue(snapshot: Snapshot, day: number): DueItem[] {
  const { clutches } = snapshot;
  const young = youngByClutch(snapshot);
  const items: DueItem[] = [];
  for (let c = 0; c < clutches.count; c++) {
    const laid = clutches.laidLatest[c];
    if (laid === NO_DAY || laid < day - LATELY.hatched) continue;
    const sheet = clutchSheet(snapshot, c, young);
    const code = clutches.codes[c] ?? 'A clutch';
    const link = `/clutches/${encodeURIComponent(clutches.codes[c] ?? clutches.ids[c])}`;
    if (sheet.stage === 'LAID' && sheet.open && laid > day - LATELY.laid && laid <= day) {
      items.push({
        kind: 'eggs',
        title: `${code}: are its eggs set?`,
        sentence: `${sheet.open} eggs of ${sheet.laid} are not written down as set, broken or left.`,
        link,
        severity: 'NOTE',
      });
    }
    if (sheet.stage !== 'INCUBATING' || sheet.open === 0) continue;
    const windows = sheet.batches.flatMap(({ hatchWindow }) => hatchWindow ?? []);
    if (windows.length === 0) continue;
    const from = windows.map((window) => window.from).sort()[0];
    const to = windows
      .map((window) => window.to)
      .sort()
      .at(-1)!;
    const [opens, closes] = [from, to].map((text) => parsePartialDate(text)?.earliest ?? 0);
    if (day < opens - AHEAD) continue;
    const isOver = day > closes + OVERDUE;
    items.push({
      kind: 'hatching',
      title: isOver
        ? `${code}: what became of its eggs?`
        : `${code} may hatch from ${from} to ${to}`,
      sentence: isOver
        ? `Its hatch window closed on ${to}, and ${sheet.open ?? 'some'} eggs are still open.`
        : `${sheet.open ?? 'Some'} eggs are still open. Published incubation times; yours may differ.`,
      link,
      severity: isOver ? 'WARNING' : 'NOTE',
    });
  }
  return items;
}

/** Young are looked at again at about three months: colours change. Grouped by clutch. */
function colourChecksDue(snapshot: Snapshot, day: number): DueItem[] {
  const { animals, season, clutches, colourChecks, traits } = snapshot;
  if (traits.length === 0) return [];
  const after = season.settings.colourCheckMonths * MONTH;
  const lastLook = new Map<number, number>();
  for (const check of colourChecks)
    lastLook.set(check.animal, Math.max(check.day, lastLook.get(check.animal) ?? NO_DAY));
  const due = new Map<number, string[]>();
  for (let i = 0; i < animals.count; i++) {
    const hatched = animals.hatchedLatest[i];
    const clutch = animals.clutch[i];
    if (clutch === NONE || hatched === NO_DAY || season.gone.has(i)) continue;
    if (day < hatched + after || day > hatched + LATELY.hatched) continue;
    if ((lastLook.get(i) ?? NO_DAY) >= hatched + after) continue;
    const group = due.get(clutch);
    if (group) group.push(animals.codes[i]);
    else due.set(clutch, [animals.codes[i]]);
  }
  return [...due].map(([clutch, codes]) => ({
    kind: 'colour' as const,
    title: `Colour check due: ${few(codes)}`,
    sentence: `${codes.length === 1 ? 'It is' : 'They are'} over ${season.settings.colourCheckMonths} months old and ${codes.length === 1 ? 'was' : 'were'} not looked at since.`,
    link:
      clutches.laid[clutch] === null
        ? `/animals/${encodeURIComponent(codes[0])}`
        : `/clutches/${encodeURIComponent(clutches.codes[clutch] ?? clutches.ids[clutch])}`,
    severity: 'NOTE' as const,
  }));
}

function quarantinesEnding(snapshot: Snapshot, day: number): DueItem[] {
  return presentStays(snapshot).flatMap((stay) => {
    const pen = snapshot.pens[stay.pen];
    const since = stay.days.sureFirst;
    if (!pen.isQuarantine || !Number.isFinite(since) || day < since + QUARANTINE_DAYS) return [];
    const code = snapshot.animals.codes[stay.animal];
    return {
      kind: 'quarantine' as const,
      title: `${code} has been in ${pen.name} since ${stay.from}`,
      sentence: `Over ${QUARANTINE_DAYS} days. How long it should be is for your veterinarian to say.`,
      link: `/animals/${encodeURIComponent(code)}`,
      severity: 'NOTE' as const,
    };
  });
}

function unseen(snapshot: Snapshot, day: number): DueItem[] {
  const { lastSeen } = snapshot.season;
  const codes = presentStays(snapshot)
    .filter(({ animal }) => lastSeen[animal] !== NO_DAY && day - lastSeen[animal] > UNSEEN_DAYS)
    .map(({ animal }) => snapshot.animals.codes[animal]);
  if (codes.length === 0) return [];
  return [
    {
      kind: 'unseen',
      title: `Not seen for a year: ${few(codes)}`,
      sentence: 'Nothing is written of them since. They may be in a burrow, or gone.',
      link: '/yard',
      severity: 'NOTE',
    },
  ];
}

/** One animal in two pens on a day that both stays surely hold. */
function overlappingStays(snapshot: Snapshot): DueItem[] {
  const byAnimal = new Map<number, StayRow[]>();
  for (const stay of snapshot.stays) {
    const group = byAnimal.get(stay.animal);
    if (group) group.push(stay);
    else byAnimal.set(stay.animal, [stay]);
  }
  const items: DueItem[] = [];
  for (const [animal, stays] of byAnimal) {
    if (stays.length < 2) continue;
    // Sorted by their sure start, two that overlap stand side by side somewhere.
    const sure = stays
      .filter(({ days }) => days.sureFirst < days.sureLast)
      .sort((a, b) => a.days.sureFirst - b.days.sureFirst);
    const clash = sure.findIndex(({ days }, i) => i > 0 && surelyOverlap(days, sure[i - 1].days));
    if (clash < 0) continue;
    const [one, other] = [sure[clash - 1], sure[clash]].map(({ pen }) => snapshot.pens[pen].name);
    const code = snapshot.animals.codes[animal];
    items.push({
      kind: 'stays',
      title: `${code} stands in two pens at once`,
      sentence: `In ${one} and in ${other}: one of the two stays has a wrong date.`,
      link: `/animals/${encodeURIComponent(code)}`,
      severity: 'WARNING',
    });
  }
  return items;
}

function few(codes: readonly string[]): string {
  return codes.length <= 3
    ? codes.join(', ')
    : `${codes.slice(0, 2).join(', ')} and ${codes.length - 2} more`;
}
