export type Sex = 'FEMALE' | 'MALE' | 'UNKNOWN';

/** The words of the screen for a sex. */
export const SEX_WORDS: Record<Sex, string> = {
  FEMALE: 'female',
  MALE: 'male',
  UNKNOWN: 'not yet sexed',
};

/**
 * Square, circle or diamond: male, female, not sexed, as the published standard of pedigree
 * drawings has it (Bennett and others 1995, 2008, doi 10.1007/s10897-008-9169-9).
 */
export function SexShape({ sex }: { readonly sex: Sex }) {
  return (
    <svg className="sex-shape" viewBox="0 0 24 24" aria-hidden="true">
      {sex === 'MALE' && <rect x="4" y="4" width="16" height="16" />}
      {sex === 'FEMALE' && <circle cx="12" cy="12" r="9" />}
      {sex === 'UNKNOWN' && <path d="M12 1.5 22.5 12 12 22.5 1.5 12Z" />}
    </svg>
  );
}
