import { useId, useState } from 'preact/hooks';
import { Button } from '../ui';
import { t } from '../words';
import { grouped, plain, tagLength, whole } from './code';

interface Props {
  onText: (text: string) => void;
}

/** The code on the tag, typed: big, upper case, grouped as the label has it. */
export function TypedCode({ onText }: Props) {
  const id = useId();
  const [text, setText] = useState('');
  const typed = (value: string) => setText(value.includes('/') ? value : grouped(value));
  const n = plain(text).length;
  const send = (event: Event) => {
    event.preventDefault();
    if (whole(text) || text.includes('/')) onText(text);
  };
  return (
    <form class="typed" onSubmit={send}>
      <label for={id}>{t('scan.code')}</label>
      <input
        id={id}
        type="text"
        value={text}
        autocomplete="off"
        autocapitalize="characters"
        autocorrect="off"
        spellcheck={false}
        enterkeyhint="go"
        aria-describedby={`${id}-hint`}
        onInput={(event) => typed(event.currentTarget.value)}
      />
      <p id={`${id}-hint`} class="small soft">
        {n === 0 || n === tagLength ? t('scan.code-hint') : t('scan.code-short', { n })}
      </p>
      <Button kind="main" disabled={!whole(text) && !text.includes('/')} onPress={() => onText(text)}>
        {t('scan.open')}
      </Button>
    </form>
  );
}
