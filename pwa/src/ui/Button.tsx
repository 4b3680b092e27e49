import type { ComponentChildren } from 'preact';

/** How a button looks: the page's main act, an ordinary one, a quiet one, or bare words. */
export type ButtonKind = 'main' | 'ordinary' | 'quiet' | 'plain';

interface Props {
  children: ComponentChildren;
  kind?: ButtonKind;
  /** Where it leads; then it is a link. */
  href?: string;
  /** Given the time that the press's event tells, in ms. */
  onPress?: (at: number) => void;
  disabled?: boolean;
  /** Whether what it switches is on. */
  pressed?: boolean;
  /** What it is called where the visible words are not enough. */
  label?: string;
}

/** Something to press. The main act belongs in a page's `act`. */
export function Button({ children, kind = 'ordinary', href, onPress, disabled, pressed, label }: Props) {
  const press = onPress && ((event: Event) => onPress(event.timeStamp));
  const look = kind === 'ordinary' ? 'button' : `button ${kind}`;
  if (href !== undefined && !disabled) {
    return (
      <a class={look} href={href} aria-label={label} onClick={press}>
        {children}
      </a>
    );
  }
  return (
    <button type="button" class={look} disabled={disabled} aria-pressed={pressed} aria-label={label} onClick={press}>
      {children}
    </button>
  );
}
