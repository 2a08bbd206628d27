/** The words that a page explains on tap: what a breeder means by them, in one or two sentences. */
export const GLOSSARY = {
  F: 'F is the inbreeding of an animal: the chance that both its copies of a gene came down from one and the same copy of one ancestor. Young of brother and sister: 0.25; of half brother and sister: 0.125; of first cousins: 0.0625.',
  founder:
    'An animal with neither parent recorded. What stands behind it nobody wrote down; the figures take founders as unrelated to each other.',
  "founders' shares":
    'What part of the genes each founder is expected to have handed down: a parent half, a grandparent a quarter, along every line added up.',
  'possible father':
    'A male that may have fathered the young: kept with the mother, seen with her, or named by somebody. Females keep sperm for years, so it need not be the last one.',
  'a male nobody recorded':
    'What the possible fathers lack to certain: the chance that the father is a male the books do not name.',
  'how sure':
    'A chance out of 100, from all records together. Certain and ruled out are said only where the records leave no doubt.',
  visual: 'Shows the trait.',
  het: 'Carries one copy of a recessive gene unseen. Bred to another that carries it, one young in four is expected to show.',
  'possible het':
    "May carry it. '66 % het' and '50 % het' name the cross an animal comes from; for anything else the chance is said in plain numbers.",
  proven: 'Shown by its young or by a test, not only told.',
  clutch:
    'One laying. Its young share a mother and often the father, so what is learnt of one tells of all.',
  'how much is recorded':
    'Of two parents, four grandparents, eight great-grandparents and so on: how many the books name. Unknown is not unrelated.',
  'how related':
    'Twice the chance that a gene drawn from each is the same copy: parent and young, or full brother and sister: 1/2; half brother and sister: 1/4.',
  'diversity kept':
    'Of the differences that the founders brought together, the share the living still hold. It is lost by chance in every small group, faster the fewer animals breed.',
  'equal founders':
    'How many founders, all represented alike, would hold as much diversity as this group does.',
  'kinship to all here':
    'The chance that a gene drawn from the animal and one drawn from any living here, itself included, are the same copy. The lower it is, the more would be lost with the animal.',
  'breeding size':
    'The number of equally used breeders that would lose diversity as fast as this group does. It is smaller than the head count when a few breed most.',
  'colour check':
    'Somebody looked at the animal and wrote which traits show. Pale young are noticed; a plain one counts only if somebody looked.',
} as const;

export type GlossaryWord = keyof typeof GLOSSARY;
