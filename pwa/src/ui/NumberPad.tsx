import { language, t } from '../words';

interface Props {
  /** The text typed so far; `typed` from words makes it a number. */
  value: string;
  onChange: (value: string) => void;
  /** Whether the number may have decimals: adds the language's decimal key. */
  decimal?: boolean;
  /** How many characters fit; 6 unless told. */
  most?: number;
  /** Whether it is no number but digits, of which leading zeros count. */
  zeros?: boolean;
}

const digits = ['1', '2', '3', '4', '5', '6', '7', '8', '9'];

/** Our own keys for numbers, big enough for gloves; a comma and a dot both do. */
export function NumberPad({ value, onChange, decimal = false, most = 6, zeros = false }: Props) {
  const sign = language.value === 'es' ? ',' : '.';
  const add = (key: string) => value.length < most && onChange(zeros ? value + key : joined(value, key));
  return (
    <div class="pad" role="group" aria-label={t('pad.label')}>
      {digits.map((digit) => (
        <Key key={digit} words={digit} onPress={() => add(digit)} />
      ))}
      {decimal ? <Key words={sign} label={t('pad.decimal')} onPress={() => add(sign)} /> : <span />}
      <Key words="0" onPress={() => add('0')} />
      <Key words="⌫" label={t('pad.erase')} onPress={() => onChange(value.slice(0, -1))} />
    </div>
  );
}

/** A text with one more key: one decimal sign at most, no idle leading zeros. */
export function joined(value: string, key: string): string {
  const isSign = key === '.' || key === ',';
  if (isSign && /[.,]/.test(value)) return value;
  if (isSign && value === '') return `0${key}`;
  if (!isSign && value === '0') return key;
  return value + key;
}

function Key({ words, label, onPress }: { words: string; label?: string; onPress: () => void }) {
  return (
    <button type="button" aria-label={label} onClick={onPress}>
      {words}
    </button>
  );
}
