import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

interface Props {
  label: string;
  value: string;
  onInput: (value: string) => void;
  /** What is wrong with it, in words that say what to do. */
  wrong?: string;
  /** What helps to fill it in; stands under the label. */
  hint?: string;
  type?: 'text' | 'number' | 'textarea';
  /** The unit, or something to press, beside the input. */
  beside?: ComponentChildren;
  autocomplete?: string;
  inputMode?: 'text' | 'decimal' | 'numeric';
}

/** One line of input with its label. Numbers are text with a decimal keyboard. */
export function Field(props: Props) {
  const { label, value, onInput, wrong, hint, type = 'text', beside, autocomplete = 'off', inputMode } = props;
  const id = useId();
  const shared = {
    id,
    value,
    autocomplete,
    'aria-invalid': wrong !== undefined,
    'aria-describedby': wrong || hint ? `${id}-more` : undefined,
    onInput: (event: Event) => onInput((event.currentTarget as HTMLInputElement).value),
  };
  const mode = inputMode ?? (type === 'number' ? 'decimal' : 'text');
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <div class={beside ? 'with-unit' : undefined}>
        {type === 'textarea' ? <textarea rows={3} {...shared} /> : <input type="text" inputMode={mode} {...shared} />}
        {beside}
      </div>
      {(wrong ?? hint) && (
        <p id={`${id}-more`} class={wrong ? 'wrong' : 'small soft'}>
          {wrong ?? hint}
        </p>
      )}
    </div>
  );
}

interface SelectProps {
  label: string;
  value: string;
  options: readonly { value: string; words: string }[];
  onChoose: (value: string) => void;
}

/** A choice out of many, as the device's own list. */
export function Select({ label, value, options, onChoose }: SelectProps) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onChoose(event.currentTarget.value)}>
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.words}
          </option>
        ))}
      </select>
    </div>
  );
}
