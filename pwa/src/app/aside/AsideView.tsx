import { useState } from 'preact/hooks';
import { named, status, syncNow, useAsk } from '../../engine/client';
import type { FixtureCard } from '../../engine/types';
import { accept, type SetAside, settle } from '../../link/asides';
import { Button } from '../../ui';
import { known, said, t } from '../../words';
import { ago, moment } from '../../words/when';
import { called } from '../called';
import { valueWords } from '../conflict/value';
import { Facts } from '../finding/Facts';
import '../finding/finding.css';
import { opened, type Plain, plain } from './again';
import { SendAgain } from './SendAgain';

interface Props {
  aside: SetAside;
  /** The fixture that it is about, where it is known here. */
  fixture: FixtureCard | undefined;
  onDone: () => void;
}

/** One record that was set aside: whose, about what, since when, why, and what can be done. */
export function AsideView({ aside, fixture, onDone }: Props) {
  const [amending, setAmending] = useState(false);
  const [wrong, setWrong] = useState('');
  const act = (done: Promise<void>) =>
    done.then(() => syncNow()).then(onDone, (fault: unknown) => setWrong(t('aside.failed', { code: named(fault) })));
  const line = opened(aside.line);
  const { answer } = useAsk('fixture', aside.fixture === '' ? null : { id: aside.fixture });
  const joint = answer?.joints.find(({ id }) => id === (line?.body.joint ?? aside.of))?.name ?? '';
  return (
    <article class="aside">
      <h2>{title(aside)}</h2>
      <p>{known('aside', aside.code) ? said('aside', aside.code) : t('aside.other', { code: aside.code })}</p>
      <p class="small soft">{[joint, about(aside, fixture)].filter(Boolean).join(' · ')}</p>
      {line && <Facts facts={plain(line).map((one) => [said('body', one.field), inWords(one)] as const)} />}
      {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
      <div class="aside-acts">
        {aside.may && <Button onPress={() => void act(accept(aside))}>{t('aside.accept')}</Button>}
        {aside.mine && line && <Button onPress={() => setAmending(true)}>{t('aside.again')}</Button>}
        {aside.mine && (
          <Button kind="quiet" onPress={() => void act(settle(aside, 'dismissed'))}>
            {t('aside.dismiss')}
          </Button>
        )}
      </div>
      {amending && line && <SendAgain aside={aside} line={line} onClose={() => setAmending(false)} onDone={onDone} />}
    </article>
  );
}

function inWords({ field, text, number }: Plain): string {
  return number || text === '' ? text : valueWords(field, text);
}

function title({ kind }: SetAside): string {
  return kind === '' ? t('aside.no-event') : said('event', kind);
}

function about({ by, site, at }: SetAside, fixture: FixtureCard | undefined): string {
  const { me } = status.value;
  const name = me?.people.find((person) => person.id === by)?.name ?? (me?.person.id === by ? me.person.name : '');
  const place = me?.sites.find(({ id }) => id === site)?.name ?? '';
  return [me ? called(by, name) : '', fixture?.name ?? '', place, t('aside.since', { time: moment(at), age: ago(at) })].filter(Boolean).join(' · ');
}
