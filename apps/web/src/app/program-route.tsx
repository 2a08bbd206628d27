import { KeepCopy } from '../features/archive/keep-copy.js';
import { SeasonSettings } from '../features/clutches/season-settings.js';
import { ProgramPage } from '../features/program/program-page.js';

/** The program's page, with what it assumes of its season and how it leaves whole. */
export function Component() {
  return <ProgramPage season={<SeasonSettings />} copies={<KeepCopy />} />;
}
