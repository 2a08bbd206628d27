/**
 * A program file of `size` invented animals, the same at every call: forty founders, then sixty years of clutches with
 * one or two possible fathers, a pale one here and there, the young of this century in forty pens.
 */
export function inventedProgramFile(size: number): string {
  let state = 12345;
  // Source: the constants of Numerical Recipes' quick generator, from memory; any would do here.
  const chance = () => {
    state = (state * 1664525 + 1013904223) % 4294967296;
    return state / 4294967296;
  };
  const oneOf = <Item>(items: readonly Item[]) => items[Math.floor(chance() * items.length)];
  const rows = ['code,sex,hatched,sire,dam,clutch,traits,pen,scl_mm'];
  const males: { code: string; year: number }[] = [];
  const females: { code: string; year: number }[] = [];
  const newCode = () => `BG-${String(rows.length).padStart(5, '0')}`;
  for (let k = 0; k < 40; k++) {
    const founder = { code: newCode(), year: 1950 + Math.floor(chance() * 12) };
    (k % 3 === 0 ? males : females).push(founder);
    const sex = k % 3 === 0 ? 'm' : 'f';
    rows.push(`${founder.code},${sex},${founder.year},,,,${k < 2 ? 'pale' : 'none'},,`);
  }
  const clutches = Math.ceil((size - 40) / 360) + 1;
  for (let year = 1966; rows.length <= size; year++) {
    for (let n = 0; n < clutches; n++) {
      const dam = oneOf(females.filter((female) => year - female.year > 12).slice(-60));
      const sires = males.filter((male) => year - male.year > 10).slice(-20);
      const [sire, other] = [oneOf(sires), oneOf(sires)];
      const isSure = sire === other || chance() < 0.6;
      const fathers = isSure ? sire.code : `${sire.code}:0.5|${other.code}:0.45`;
      const eggs = 3 + Math.floor(chance() * 7);
      for (let egg = 0; egg < eggs && rows.length <= size; egg++) {
        const code = newCode();
        const sex = year > 2018 ? '' : (['m', 'f', ''][Math.floor(chance() * 2.4)] ?? '');
        if (sex === 'm' && chance() < 0.25) males.push({ code, year });
        if (sex === 'f' && chance() < 0.5) females.push({ code, year });
        const looks = chance() < 0.03 ? 'pale' : 'none';
        const pen = year > 2000 && chance() < 0.3 ? `Pen ${1 + Math.floor(chance() * 40)}` : '';
        const length = year > 2000 ? String(60 + Math.max(0, 2025 - year) * 12) : '';
        rows.push(
          `${code},${sex},${year}-0${7 + Math.floor(chance() * 3)},${fathers},${dam.code},C${year}/${n},${looks},${pen},${length}`,
        );
      }
    }
  }
  return rows.join('\n');
}
