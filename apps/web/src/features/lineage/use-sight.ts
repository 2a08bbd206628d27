import { type RefObject, startTransition, useEffect, useState } from 'react';

/** From which height to which of a drawing, in its own units, is worth drawing now. */
export interface Sight {
  readonly from: number;
  readonly to: number;
}

/** In steps: a scroll of a few lines draws nothing anew. */
const STEP = 500;

/**
 * What of a high drawing the window shows, and a step or two beyond. A thousand animals drawn
 * at once make each scroll and each key wait for the whole drawing.
 */
export function useSight(svg: RefObject<SVGSVGElement | null>, height: number): Sight {
  const [sight, setSight] = useState<Sight>({ from: 0, to: 3 * STEP });
  useEffect(() => {
    const look = () => {
      const box = svg.current?.getBoundingClientRect();
      if (!box || box.height === 0) return;
      const unit = height / box.height;
      const from = Math.floor((-box.top * unit) / STEP - 1) * STEP;
      const to = Math.ceil(((window.innerHeight - box.top) * unit) / STEP + 1) * STEP;
      // A scroll goes on while what it uncovers is made.
      startTransition(() =>
        setSight((was) => (was.from === from && was.to === to ? was : { from, to })),
      );
    };
    // Another size of the drawing shows more or less of it, as a scroll does; its first size is told too.
    const sizes = new ResizeObserver(look);
    if (svg.current) sizes.observe(svg.current);
    window.addEventListener('scroll', look, { passive: true, capture: true });
    window.addEventListener('resize', look);
    return () => {
      sizes.disconnect();
      window.removeEventListener('scroll', look, { capture: true });
      window.removeEventListener('resize', look);
    };
  }, [svg, height]);
  return sight;
}
