interface Props<Value extends string> {
  legend: string;
  options: readonly { value: Value; words: string }[];
  chosen: readonly Value[];
  onChoose: (chosen: Value[]) => void;
}

/** A choice of several, as big buttons that stay pressed. */
export function Several<Value extends string>({ legend, options, chosen, onChoose }: Props<Value>) {
  const toggled = (value: Value) =>
    chosen.includes(value) ? chosen.filter((one) => one !== value) : [...chosen, value];
  return (
    <fieldset>
      <legend class="small soft">{legend}</legend>
      <div class="choice several">
        {options.map(({ value, words }) => (
          <button
            key={value}
            type="button"
            class="pick"
            aria-pressed={chosen.includes(value)}
            onClick={() => onChoose(toggled(value))}
          >
            {words}
          </button>
        ))}
      </div>
    </fieldset>
  );
}
