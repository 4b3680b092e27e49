import { said, t } from '../../words';

interface Props {
  codes: readonly string[];
  done: readonly string[];
  onDone: (done: string[]) => void;
}

/** What must be put back, as big rows to check off. */
export function PutBack({ codes, done, onDone }: Props) {
  const toggle = (code: string) =>
    onDone(done.includes(code) ? done.filter((one) => one !== code) : codes.filter((one) => one === code || done.includes(one)));
  return (
    <fieldset>
      <legend class="small soft">{t('end.putBack')}</legend>
      {codes.map((code) => (
        <button key={code} type="button" class="put-back" aria-pressed={done.includes(code)} onClick={() => toggle(code)}>
          <svg viewBox="0 0 24 24" aria-hidden="true" focusable="false">
            <rect x="3" y="3" width="18" height="18" fill="none" stroke="currentColor" stroke-width="2.4" />
            {done.includes(code) && <path d="m7 12.5 4 4 7-9" fill="none" stroke="currentColor" stroke-width="3" />}
          </svg>
          {said('putBack', code)}
        </button>
      ))}
    </fieldset>
  );
}
