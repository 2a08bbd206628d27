import type { Caution } from '../pairings/pairings.types.js';

const MM = {
  'Centrochelys sulcata': '384 to 797 mm (males, wild)',
  'Testudo hermanni': '130 to 180 mm',
} as Record<string, string>;

/** The usual cautions when a tortoise changes hands, with their source; they defer to local codes and licensed practice. */
export function saleCautions(species: readonly string[]): Caution[] {
  const sizes = species.flatMap((name) => (MM[name] ? [`${name}: ${MM[name]}`] : []));
  return [
    {
      lead: 'Papers first.',
      text: 'Tortoises are listed by CITES (Testudinidae, Appendix II; some in Appendix I), and many places ask for a certificate, a permit or a mark before one is sold or moved.',
      source:
        'CITES Appendices, Testudinidae (from memory). Ask your permit office; local codes prevail.',
      isHarm: true,
    },
    {
      lead: 'Size of small turtles.',
      text: 'In the United States turtles with a shell under four inches (about 102 mm) may not be sold as pets.',
      source: '21 CFR 1240.62 (from memory). Local codes prevail.',
      isHarm: true,
    },
    {
      lead: 'Health.',
      text: 'Let a veterinarian look at the animal, keep newcomers apart, and wash hands: reptiles can carry Salmonella without being ill.',
      source: 'Usual veterinary and public-health advice; ask a veterinarian.',
      isHarm: true,
    },
    {
      lead: 'It grows and it fights.',
      text: `Tell the buyer the adult size${sizes.length > 0 ? ` (${sizes.join('; ')})` : ''} and that two grown males do not share a pen.`,
      source:
        'Lambert 1993 and Bertolero et al. 2011 for sizes; fighting: common practice, no source.',
      isHarm: false,
    },
    {
      lead: 'Never set free.',
      text: 'A captive animal that is not wanted any more comes back or goes to a shelter; it is not released.',
      source: 'Common practice, no source; releasing is against the law in many places.',
      isHarm: true,
    },
  ];
}
