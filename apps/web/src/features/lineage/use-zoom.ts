import {
  type RefObject,
  useCallback,
  useDeferredValue,
  useEffect,
  useLayoutEffect,
  useRef,
  useState,
} from 'react';

/** Smaller than the least nothing can be told apart; larger than the most an animal fills the window. */
const LEAST = 0.02;
const MOST = 3;
const STEP = 1.25;

export interface Zoom {
  /** As asked for. 1: as large as the type of the page. */
  readonly scale: number;
  /** As drawn: a large chart follows what was asked for after the answer to the key or finger is seen. */
  readonly drawn: number;
  readonly set: (scale: number) => void;
  readonly larger: () => void;
  readonly smaller: () => void;
  /** So small that the frame shows it all. */
  readonly whole: () => void;
}

/**
 * How large a drawing stands in the frame that scrolls it: by buttons and keys, by two fingers, by a pinch on a
 * touch pad (told as a wheel turned with Control held). What stood in the middle stays there.
 */
export function useZoom(svg: RefObject<SVGSVGElement | null>): Zoom {
  const [scale, setScale] = useState(1);
  const drawn = useDeferredValue(scale);
  const now = useRef(scale);
  /** What part of the drawing lay left of and above the frame's middle. */
  const middle = useRef({ x: 0.5, y: 0.5 });
  const set = useCallback(
    (next: number) => {
      const frame = svg.current?.parentElement;
      if (!frame) return;
      middle.current = {
        x: (frame.scrollLeft + frame.clientWidth / 2) / frame.scrollWidth,
        y: (frame.scrollTop + frame.clientHeight / 2) / frame.scrollHeight,
      };
      setScale(Math.min(MOST, Math.max(LEAST, next)));
    },
    [svg],
  );
  useLayoutEffect(() => {
    const frame = svg.current?.parentElement;
    if (!frame || now.current === drawn) return;
    now.current = drawn;
    const { x, y } = middle.current;
    frame.scrollTo(
      x * frame.scrollWidth - frame.clientWidth / 2,
      y * frame.scrollHeight - frame.clientHeight / 2,
    );
  }, [svg, drawn]);
  useEffect(() => {
    const frame = svg.current?.parentElement;
    if (!frame) return;
    let pinch: { readonly apart: number; readonly scale: number } | null = null;
    const turn = (event: WheelEvent) => {
      if (!event.ctrlKey) return;
      event.preventDefault();
      set(now.current * Math.exp(-event.deltaY / 200));
    };
    const put = ({ touches }: TouchEvent) => {
      pinch = touches.length === 2 ? { apart: apart(touches), scale: now.current } : null;
    };
    const move = (event: TouchEvent) => {
      if (!pinch) return;
      event.preventDefault();
      set((pinch.scale * apart(event.touches)) / pinch.apart);
    };
    // Not passive: the browser would enlarge the page as well.
    frame.addEventListener('wheel', turn, { passive: false });
    frame.addEventListener('touchmove', move, { passive: false });
    for (const name of ['touchstart', 'touchend', 'touchcancel'] as const) {
      frame.addEventListener(name, put, { passive: true });
    }
    return () => {
      frame.removeEventListener('wheel', turn);
      frame.removeEventListener('touchmove', move);
      for (const name of ['touchstart', 'touchend', 'touchcancel'] as const) {
        frame.removeEventListener(name, put);
      }
    };
  }, [svg, set]);
  const whole = () => {
    const frame = svg.current?.parentElement;
    const box = svg.current?.getBoundingClientRect();
    if (!frame || !box) return;
    const room = Math.min(frame.clientWidth / box.width, (window.innerHeight * 0.8) / box.height);
    set(now.current * room);
  };
  return {
    scale,
    drawn,
    set,
    whole,
    larger: () => set(scale * STEP),
    smaller: () => set(scale / STEP),
  };
}

/** How far two fingers are apart, in pixels. */
function apart([one, other]: Iterable<Touch>): number {
  return one && other ? Math.hypot(one.clientX - other.clientX, one.clientY - other.clientY) : 1;
}
