import { said } from '../words';

/** The shapes that show a state; the engine names them. */
export type MarkName = 'ring' | 'half' | 'drop' | 'burst' | 'dash' | 'waiting' | 'blank';

const drop = 'M12 2.5C12 2.5 5 10.6 5 15.2a7 7 0 0 0 14 0C19 10.6 12 2.5 12 2.5Z';
const innerDrop = 'M12 6.2c0 0-3.6 4.4-3.6 7a3.6 3.6 0 0 0 7.2 0c0-2.6-3.6-7-3.6-7Z';
const burst =
  'M12 1l2.3 6 5.5-3.3-2 6.1 5.2 2.2-5.2 2.2 2 6.1-5.5-3.3-2.3 6-2.3-6-5.5 3.3 2-6.1L1 12l5.2-2.2-2-6.1 5.5 3.3z';

/** The drawing of a mark without its word; beside it the word must stand, or a label. */
export function MarkShape({ mark }: { mark: string }) {
  return (
    <svg class={`mark-${mark}`} viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      {drawing(mark)}
    </svg>
  );
}

/** A state as shape and word. `word` replaces the usual word of the mark. */
export function Mark({ mark, word }: { mark: string; word?: string }) {
  return (
    <span class="mark">
      <MarkShape mark={mark} />
      <span class="word">{word ?? said('mark', mark)}</span>
    </span>
  );
}

function drawing(mark: string) {
  switch (mark as MarkName) {
    case 'ring':
      return <circle cx="12" cy="12" r="8.5" fill="none" stroke="currentColor" stroke-width="3" />;
    case 'half':
      return (
        <g fill="none" stroke="currentColor" stroke-width="3">
          <path d="M12 3.5a8.5 8.5 0 0 0 0 17" />
          <path d="M12 3.5a8.5 8.5 0 0 1 0 17" stroke-width="2" stroke-dasharray="0.1 4.3" stroke-linecap="round" />
        </g>
      );
    case 'drop':
      return <path d={drop} fill="currentColor" />;
    case 'burst':
      return <path d={burst} fill="currentColor" />;
    case 'dash':
      return <path d="M4 12h16" stroke="currentColor" stroke-width="4" />;
    case 'waiting':
      return (
        <g>
          <circle cx="12" cy="12" r="9.8" fill="none" stroke="currentColor" stroke-width="2.2" />
          <path d={innerDrop} fill="currentColor" />
        </g>
      );
    default:
      return (
        <circle cx="12" cy="12" r="8.5" fill="none" stroke="currentColor" stroke-width="1.8" stroke-dasharray="2 3.3" />
      );
  }
}
