import type { ComponentChildren } from 'preact';

/** One thing to choose: its value and what stands on its button. */
export interface Option<Value extends string> {
  value: Value;
  words: ComponentChildren;
  /** What a screen reader says where the button shows a drawing. */
  label?: string;
}

interface Props<Value extends string> {
  /** What is being chosen; `quiet` keeps it for ears only. */
  legend: string;
  quiet?: boolean;
  options: readonly Option<Value>[];
  /** The chosen value, null while nothing is. */
  value: Value | null;
  onChoose: (value: Value) => void;
  /** "even": one row of equal parts; "two": two columns; "flow": as they come. */
  layout?: 'even' | 'two' | 'flow';
  /** Lower buttons (48 px) for what is seldom changed. */
  slim?: boolean;
}

/** A choice of one out of a few, as big buttons. */
export function Choice<Value extends string>(props: Props<Value>) {
  const { legend, quiet = false, options, value, onChoose, layout = 'even', slim = false } = props;
  return (
    <fieldset>
      <legend class={quiet ? 'spoken' : 'small soft'}>{legend}</legend>
      <div class={`choice ${layout}${slim ? ' slim' : ''}`}>
        {options.map((option) => (
          <button
            key={option.value}
            type="button"
            class="pick"
            aria-pressed={option.value === value}
            aria-label={option.label}
            onClick={() => onChoose(option.value)}
          >
            {option.words}
          </button>
        ))}
      </div>
    </fieldset>
  );
}
