import type { MixtureInput } from '@scutewright/genetics';
import { UnreadableShape } from './case-file.js';

/**
 * The trade's words for a parent at one recessive locus with alleles [normal, recessive]: `visual`, `het`,
 * `normal`, `66 %`, `66 % het`, `96 % het`. '66 %' names 2/3, any other per cent itself.
 */
export function parentOf(
  word: string,
  locus: string,
  [normal, recessive]: readonly string[],
): MixtureInput {
  const genotype = (first: string, second: string) => ({ [locus]: `${first}/${second}` });
  const plain = word.trim();
  if (plain === 'visual') return genotype(recessive, recessive);
  if (plain === 'het' || plain === 'proven het') return genotype(normal, recessive);
  if (plain === 'normal') return genotype(normal, normal);
  const perCent = /^(\d+)\s*%(?:\s*het)?$/.exec(plain)?.[1];
  const chance =
    /^het with probability (\S+)$/.exec(plain)?.[1] ??
    (perCent === '66' ? '2/3' : perCent === '33' ? '1/3' : perCent && `${perCent}/100`);
  if (!chance) throw new UnreadableShape(`the parent '${word}' is not known`);
  return hetWith(chance, locus, [normal, recessive]);
}

/** Het with this probability, else normal. */
export function hetWith(
  chance: string,
  locus: string,
  [normal, recessive]: readonly string[],
): MixtureInput {
  const [numerator, denominator = '1'] = chance.split('/');
  const rest = chance.includes('/')
    ? `${BigInt(denominator) - BigInt(numerator)}/${denominator}`
    : String(1 - Number(chance));
  return [
    { probability: chance, genotypes: { [locus]: `${normal}/${recessive}` } },
    { probability: rest, genotypes: { [locus]: `${normal}/${normal}` } },
  ];
}
