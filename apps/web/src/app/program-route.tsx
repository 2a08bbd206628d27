import { SeasonSettings } from '../features/clutches/season-settings.js';
import { ProgramPage } from '../features/program/program-page.js';

/** The program's page, with what it assumes of its season. */
export function Component() {
  return <ProgramPage season={<SeasonSettings />} />;
}
