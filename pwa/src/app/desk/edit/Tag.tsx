import { useState } from 'preact/hooks';
import { ask, type Fault } from '../../../engine/client';
import type { Fixture, TagAnswer } from '../../../engine/types';
import { grouped, whole } from '../../../scan/code';
import { Button, Field } from '../../../ui';
import { said, t } from '../../../words';
import { offerWithdrawal, useSaving } from '../../save';
import { timeOf } from '../../stamp';
import { seenOf } from './change';

/** Another tag for a fixture: a fresh one, or a label that is there already, also one of another fixture; and which it had before. */
export function Tag({ fixture }: { fixture: Fixture }) {
  const [typed, setTyped] = useState('');
  const [found, setFound] = useState<TagAnswer | null>(null);
  const { problem, save } = useSaving();
  const give = async (tag: string) => {
    const body = { tag, ...seenOf(fixture) };
    const written = await save([{ kind: 'fixture-edited', site: fixture.site, fixture: fixture.id, of: fixture.id, base: fixture.base, body }]);
    if (written === null) return;
    setTyped('');
    setFound(null);
    offerWithdrawal(t('tag.given'), fixture.site, written);
  };
  const type = (text: string) => {
    setTyped(grouped(text));
    setFound(null);
    if (whole(text)) ask('tag', { text }).then(setFound, (fault: Fault) => setFound({ code: '', problem: fault.code }));
  };
  return (
    <section class="form" aria-label={t('tag.title')}>
      <h2>{t('tag.title')}</h2>
      <p>{t('tag.what')}</p>
      <Field label={t('scan.code')} value={typed} onInput={type} />
      {found && <Found found={found} fixture={fixture} onGive={() => void give(found.code ?? '')} />}
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <Button onPress={() => void give('')}>{t('tag.fresh')}</Button>
      <History fixture={fixture} />
    </section>
  );
}

/** What the typed code is, and giving it. */
function Found({ found, fixture, onGive }: { found: TagAnswer; fixture: Fixture; onGive: () => void }) {
  const { problem, name } = found;
  if (problem && problem !== 'tag-unknown') return <p class="wrong" role="alert">{said('scan-problem', problem)}</p>;
  if (found.fixture === fixture.id) return <p role="status">{t('tag.own')}</p>;
  return (
    <>
      {name && <p class="strong" role="alert">{t('tag.from', { name })}</p>}
      <Button kind="main" onPress={onGive}>
        {t('tag.give')}
      </Button>
    </>
  );
}

/** The tags that it had, newest first; nothing where it has the first one still. */
function History({ fixture: { tags } }: { fixture: Fixture }) {
  if (tags.length < 2) return null;
  return (
    <ul class="desk-rows" aria-label={t('tag.history')}>
      {tags.map(({ code, given }) => (
        <li key={code + given.time} class="small">
          {t('tag.since', { code: grouped(code), time: timeOf(given), name: given.name })}
        </li>
      ))}
    </ul>
  );
}
