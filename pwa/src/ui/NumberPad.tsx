import { useEffect, useRef } from 'preact/hooks';
import { language, t } from '../words';
import { pointOf } from '../words/number';

interface Props {
  /** The text typed so far; `typed` from words makes it a number. */
  value: string;
  onChange: (value: string) => void;
  /** Whether the number may have decimals: adds the language's decimal key. */
  decimal?: boolean;
  /** Whether it may be a fraction: adds its bar. */
  fraction?: boolean;
  /** How many characters fit; 6 unless told. */
  most?: number;
  /** Whether it is no number but digits, of which leading zeros count. */
  zeros?: boolean;
}

const digits = ['1', '2', '3', '4', '5', '6', '7', '8', '9'];

/** Our own keys for numbers, big enough for gloves, and the same of a keyboard; a comma and a dot both do. */
export function NumberPad({ value, onChange, decimal = false, fraction = false, most = 6, zeros = false }: Props) {
  const sign = pointOf(language.value);
  const add = (key: string) => value.length < most && onChange(zeros ? value + key : joined(value, key));
  const erase = () => onChange(value.slice(0, -1));
  useTyped((key) => {
    if (/^\d$/.test(key)) add(key);
    else if (decimal && /^[.,]$/.test(key)) add(sign);
    else if (fraction && key === '/') add(key);
    else if (key === 'Backspace') erase();
    else return false;
    return true;
  });
  return (
    <div class="pad" role="group" aria-label={t('pad.label')}>
      {digits.map((digit) => (
        <Key key={digit} words={digit} onPress={() => add(digit)} />
      ))}
      {decimal ? <Key words={sign} label={t('pad.decimal')} onPress={() => add(sign)} /> : <span />}
      <Key words="0" onPress={() => add('0')} />
      <Key words="⌫" label={t('pad.erase')} onPress={erase} />
      {fraction && <Key words="/" label={t('size.fraction')} wide onPress={() => add('/')} />}
    </div>
  );
}

/** Hears a keyboard's keys while the pad is there, except what is typed into a field; `type` says whether a key was one of its own. */
function useTyped(type: (key: string) => boolean): void {
  const now = useRef(type);
  now.current = type;
  useEffect(() => {
    const hear = (event: KeyboardEvent) => {
      const other = event.altKey || event.ctrlKey || event.metaKey || (event.target instanceof Element && event.target.matches('input, select, textarea'));
      if (!other && now.current(event.key)) event.preventDefault();
    };
    addEventListener('keydown', hear);
    return () => removeEventListener('keydown', hear);
  }, []);
}

/** A text with one more key: one decimal sign at most, no idle leading zeros. */
export function joined(value: string, key: string): string {
  const isSign = key === '.' || key === ',';
  if (isSign && /[.,]/.test(value)) return value;
  if (isSign && value === '') return `0${key}`;
  if (key === '/') return value === '' || value.includes('/') ? value : value + key;
  if (!isSign && value === '0') return key;
  return value + key;
}

function Key({ words, label, wide, onPress }: { words: string; label?: string; wide?: boolean; onPress: () => void }) {
  return (
    <button type="button" class={wide ? 'wide' : ''} aria-label={label} onClick={onPress}>
      {words}
    </button>
  );
}
