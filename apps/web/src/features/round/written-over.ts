import type { QueuedEntry } from '../../lib/phone-store.js';
import type { RoundAnimal, RoundClutch, RoundCopy, RoundLot } from './round-documents.js';

/** The kinds that change what the round shows, with the fields that do. */
interface Says {
  readonly move?: { animals?: readonly string[]; lots?: readonly string[]; pen?: string | null };
  readonly measured?: { animal: string; massG?: number; sclMm?: number };
  readonly sexed?: { animal: string; sex: RoundAnimal['sex'] };
  readonly marked?: { animal: string; text: string; isLost?: boolean };
  readonly died?: { animal: string };
  readonly gone?: { animal: string; isBack?: boolean; pen?: string | null };
  readonly transferred?: {
    animal?: string;
    lot?: string;
    count?: number;
    newcomer?: { code: string; sex?: RoundAnimal['sex'] };
    way: string;
    pen?: string | null;
  };
  readonly laid?: {
    dams?: readonly { ref: string }[];
    eggs?: number;
    broken?: number;
    notSet?: number;
  };
  readonly set?: { clutch: string; batch?: string; eggs: number; celsius?: number };
  readonly warmth?: { clutch: string; batch?: string; celsius: number };
  readonly eggs?: { clutch: string } & Partial<
    Record<'infertile' | 'diedEarly' | 'diedLate' | 'lost', number>
  >;
  readonly hatched?: { clutch: string; count: number; codes?: readonly string[]; pen?: string };
  readonly found?: { codes: readonly string[] };
  readonly lot?: {
    lot: string;
    counted?: number;
    died?: number;
    lost?: number;
    split?: { count: number; into: string };
    mergeInto?: string;
    promote?: readonly string[];
  };
}

const COMES_IN = new Set(['BOUGHT', 'RECEIVED', 'BORROWED', 'CAME_BACK']);

/**
 * A copy of the yard over which entries are written as the service will write them. Made things go by what a later entry can
 * name them by: a clutch or newcomer by the id of its entry, which the service gives it too; young and lots by their code.
 */
export class WrittenOver {
  private readonly animals: Map<string, RoundAnimal>;
  private readonly lots: Map<string, RoundLot>;
  private readonly clutches: Map<string, RoundClutch>;
  private readonly away: Map<string, RoundCopy['away'][number]>;

  constructor(private readonly copy: RoundCopy) {
    const byId = <Row extends { id: string }>(rows: readonly Row[]) =>
      new Map(rows.map((row) => [row.id, row]));
    this.animals = byId(copy.animals);
    this.lots = byId(copy.lots);
    this.clutches = byId(copy.clutches);
    this.away = byId(copy.away);
  }

  yard(): RoundCopy {
    return {
      ...this.copy,
      animals: [...this.animals.values()],
      lots: [...this.lots.values()].filter(({ count }) => count > 0),
      clutches: [...this.clutches.values()],
      away: [...this.away.values()],
    };
  }

  write(entry: QueuedEntry['entry']): void {
    const says = entry as Says;
    const on = typeof entry.on === 'string' ? entry.on : null;
    this.writeAnimal(says, on);
    this.writeEggs(says, entry.id, on);
    this.writeLot(says);
    const { transferred } = says;
    if (transferred) this.transfer(transferred, entry.id, on);
  }

  private writeAnimal(says: Says, on: string | null): void {
    const { move, measured, sexed, marked, died, gone, found } = says;
    for (const id of move?.animals ?? []) this.change(id, { penId: move?.pen ?? null });
    if (measured?.massG !== undefined)
      this.change(measured.animal, { massG: measured.massG, weighed: on });
    if (measured?.sclMm !== undefined) this.change(measured.animal, { sclMm: measured.sclMm });
    if (sexed) this.change(sexed.animal, { sex: sexed.sex });
    if (marked) {
      const marks = this.animals.get(marked.animal)?.marks ?? [];
      const others = marks.filter((mark) => mark !== marked.text);
      this.change(marked.animal, { marks: marked.isLost ? others : [...others, marked.text] });
    }
    if (died) this.leave(died.animal, null, on);
    if (gone?.isBack) this.comeBack(gone.animal, gone.pen ?? null);
    else if (gone) this.leave(gone.animal, 'escaped', on);
    for (const code of found?.codes ?? []) this.addAnimal(code, code, null);
  }

  private writeEggs({ laid, set, warmth, eggs, hatched }: Says, id: string, on: string | null) {
    if (laid) {
      const mothers = (laid.dams ?? []).map(({ ref }) => this.animals.get(ref)?.code ?? ref);
      const count = laid.eggs ?? null;
      const open = count === null ? null : count - (laid.broken ?? 0) - (laid.notSet ?? 0);
      const code = `New, of ${mothers.join(' or ') || 'no known mother'}`;
      const made = { id, code, laid: on, mothers, eggs: count, open, boxes: [] };
      this.clutches.set(id, made);
    }
    const of = set ?? warmth ?? eggs ?? hatched;
    const clutch = of && this.clutches.get(of.clutch);
    if (!clutch) return;
    const boxes = set
      ? [
          ...clutch.boxes,
          { label: set.batch ?? clutch.code, eggs: set.eggs, celsius: set.celsius ?? null },
        ]
      : clutch.boxes.map((box) =>
          warmth && (!warmth.batch || warmth.batch === box.label)
            ? { ...box, celsius: warmth.celsius }
            : box,
        );
    const gone =
      (eggs?.infertile ?? 0) +
      (eggs?.diedEarly ?? 0) +
      (eggs?.diedLate ?? 0) +
      (eggs?.lost ?? 0) +
      (hatched?.count ?? 0);
    const open = clutch.open === null ? null : Math.max(0, clutch.open - gone);
    this.clutches.set(clutch.id, { ...clutch, boxes, open });
    if (!hatched) return;
    const codes = hatched.codes ?? [];
    for (const code of codes) this.addAnimal(code, code, hatched.pen ?? null);
    // A clutch without signal has no code yet, so neither has its lot: it shows once it is sent.
    if (clutch.id !== id && !clutch.code.startsWith('New, '))
      this.addToLot(clutch.code, hatched.count - codes.length, hatched.pen ?? null);
  }

  private writeLot({ lot: said, move }: Says): void {
    for (const id of move?.lots ?? []) {
      const moved = this.lots.get(id);
      if (moved) this.lots.set(id, { ...moved, penId: move?.pen ?? null });
    }
    const lot = said && this.lots.get(said.lot);
    if (!said || !lot) return;
    const put = (count: number) => this.lots.set(lot.id, { ...lot, count });
    if (said.counted !== undefined) put(said.counted);
    if (said.died ?? said.lost) put(lot.count - (said.died ?? 0) - (said.lost ?? 0));
    if (said.split) {
      put(lot.count - said.split.count);
      this.addToLot(said.split.into, said.split.count, null);
    }
    if (said.mergeInto) {
      put(0);
      const into = this.lots.get(said.mergeInto);
      if (into) this.lots.set(into.id, { ...into, count: into.count + lot.count });
    }
    if (said.promote) {
      put(lot.count - said.promote.length);
      for (const code of said.promote) this.addAnimal(code, code, lot.penId);
    }
  }

  private transfer(
    { animal, lot, count, newcomer, way, pen }: NonNullable<Says['transferred']>,
    id: string,
    on: string | null,
  ): void {
    if (newcomer) this.addAnimal(id, newcomer.code, pen ?? null, newcomer.sex);
    if (animal && COMES_IN.has(way)) this.comeBack(animal, pen ?? null);
    else if (animal) this.leave(animal, way === 'LENT' ? 'lent out' : null, on);
    const known = lot ? this.lots.get(lot) : undefined;
    if (known) this.lots.set(known.id, { ...known, count: known.count - (count ?? 1) });
  }

  private change(id: string, to: Partial<RoundAnimal>): void {
    const animal = this.animals.get(id);
    if (animal) this.animals.set(id, { ...animal, ...to });
  }

  private addAnimal(
    id: string,
    code: string,
    penId: string | null,
    sex: RoundAnimal['sex'] = 'UNKNOWN',
  ): void {
    for (const animal of this.animals.values()) if (animal.code === code) return;
    const nothing = {
      name: null,
      marks: [],
      massG: null,
      weighed: null,
      sclMm: null,
      photoId: null,
    };
    this.animals.set(id, { id, code, sex, penId, lastSeen: null, ...nothing });
  }

  private addToLot(code: string, count: number, penId: string | null): void {
    if (count <= 0) return;
    const known = [...this.lots.values()].find((lot) => lot.code === code);
    const lot = known ?? { id: code, code, count: 0, penId: null };
    this.lots.set(lot.id, { ...lot, count: lot.count + count, penId: penId ?? lot.penId });
  }

  /** `words`: how it may come back; null where it does not. */
  private leave(id: string, words: string | null, on: string | null): void {
    const animal = this.animals.get(id);
    this.animals.delete(id);
    this.away.delete(id);
    if (!animal || words === null) return;
    const { code, name } = animal;
    this.away.set(id, { id, code, name, words, since: on, isEscaped: words === 'escaped' });
  }

  private comeBack(id: string, penId: string | null): void {
    const away = this.away.get(id);
    this.away.delete(id);
    if (!away || this.animals.has(id)) return;
    this.addAnimal(id, away.code, penId);
    this.change(id, { name: away.name });
  }
}
