import { useSearchParams } from 'react-router';
import { Choice } from '../../components/choice.js';
import { FaultNote } from '../../components/fault-note.js';
import { Opening } from '../../components/opening.js';
import { PrintedPage } from '../../components/printed-page.js';
import { Skeleton } from '../../components/skeleton.js';
import { useProgram } from '../../lib/program-context.js';
import { useRead } from '../../lib/use-read.js';
import { AnimalLabels, ClutchLabels, LotLabels } from './labels.js';
import './paper.css';
import { PaperQuery } from './paper-documents.js';
import { PenCards } from './pen-cards.js';
import { SeasonSheet } from './season-sheet.js';
import { StockBook } from './stock-book.js';

const SHEETS = [
  { value: 'pens', words: 'Pen cards' },
  { value: 'animals', words: 'Animal labels' },
  { value: 'clutches', words: 'Box labels' },
  { value: 'lots', words: 'Tub labels' },
  { value: 'season', words: 'Season sheet' },
  { value: 'stock', words: 'Stock book' },
] as const;
const SIZES = [
  { value: 'A4', words: 'A4' },
  { value: 'letter', words: 'Letter' },
] as const;

/** What is printed for the yard, the boxes and the authority; the page shows it as it will come out. */
export function PaperPage() {
  const program = useProgram();
  const [params, setParams] = useSearchParams();
  const { data, faults, again } = useRead(PaperQuery, { programId: program.id });
  const sheet = SHEETS.find(({ value }) => value === params.get('sheet'))?.value ?? 'pens';
  const size = params.get('size') === 'letter' ? 'letter' : 'A4';
  const year = Number(params.get('year')) || new Date().getFullYear();
  const set = (to: Record<string, string>) =>
    setParams({ sheet, size, year: String(year), ...to }, { replace: true });
  const address = data?.labelAddress;
  const base = address?.isSet ? address.base : window.location.origin;
  const thisYear = new Date().getFullYear();
  return (
    <>
      <div className="no-print">
        <Opening
          title="Paper"
          sentence="Cards, labels and sheets for the yard, where a phone is in the way."
          acts={
            <button className="act" type="button" disabled={!data} onClick={() => window.print()}>
              Print
            </button>
          }
        />
        <div className="paper-choices">
          <Choice
            label="What to print"
            options={SHEETS}
            value={sheet}
            onChange={(value) => set({ sheet: value })}
          />
          <Choice
            label="Paper"
            options={SIZES}
            value={size}
            onChange={(value) => set({ size: value })}
          />
          {sheet === 'stock' && (
            <div className="field">
              <label htmlFor="stock-year">Year</label>
              <select
                id="stock-year"
                value={year}
                onChange={(event) => set({ year: event.target.value })}
              >
                {Array.from({ length: 40 }, (_, k) => thisYear - k).map((each) => (
                  <option key={each}>{each}</option>
                ))}
              </select>
            </div>
          )}
        </div>
        {address && !address.isSet && !['season', 'stock'].includes(sheet) && (
          <p className="assumed">
            The codes lead to <b>{base}</b>. If that changes, labels go stale: set
            SCUTEWRIGHT_PUBLIC_URL to an address that stays before you print many.
          </p>
        )}
        <FaultNote faults={faults} again={again} />
        {!data && faults.length === 0 && <Skeleton lines={10} what="what is printed" />}
      </div>
      {/* After the opening, whose margins it puts aside. */}
      <PrintedPage
        size={size}
        program={program.name}
        title={SHEETS.find(({ value }) => value === sheet)?.words ?? ''}
        isDemo={program.isDemo}
      />
      {data && (
        // On a phone the sheet is wider than the page: it must be reached to be pushed sideways.
        <article className="sheet" aria-label="As it will be printed" tabIndex={0}>
          {sheet === 'pens' && (
            <PenCards copy={data.roundCopy} programId={program.id} base={base} />
          )}
          {sheet === 'animals' && (
            <AnimalLabels copy={data.roundCopy} programId={program.id} base={base} />
          )}
          {sheet === 'clutches' && (
            <ClutchLabels copy={data.roundCopy} programId={program.id} base={base} />
          )}
          {sheet === 'lots' && (
            <LotLabels copy={data.roundCopy} programId={program.id} base={base} />
          )}
          {sheet === 'season' && <SeasonSheet copy={data.roundCopy} />}
          {sheet === 'stock' && <StockBook programId={program.id} year={year} />}
        </article>
      )}
    </>
  );
}
