import { useEffect, useRef } from 'preact/hooks';

/** How much of the screen's height an act may take from the list, and how much of a taller one stays in sight. Judgement. */
const most = 0.65;
const peek = 0.35;

/**
 * With large letters, or a page drawn larger, an act may be taller than the phone. Then only its upper end stays at the
 * thumb, where a clock has its numbers, and the rest comes at the end of the page: the list stays in reach.
 */
export function useRoom() {
  const act = useRef<HTMLElement>(null);
  useEffect(() => {
    const box = act.current;
    if (box === null) return undefined;
    const fit = () => {
      const beside = getComputedStyle(box).top !== 'auto'; // a phone on its side
      const tall = !beside && box.offsetHeight > innerHeight * most;
      box.toggleAttribute('data-tall', tall);
      box.style.setProperty('--below', `${tall ? Math.round(innerHeight * peek) - box.offsetHeight : 0}px`);
    };
    const seen = new ResizeObserver(fit);
    seen.observe(box);
    addEventListener('resize', fit);
    return () => {
      seen.disconnect();
      removeEventListener('resize', fit);
    };
  }, []);
  return act;
}
