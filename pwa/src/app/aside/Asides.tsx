import { useAsk } from '../../engine/client';
import type { FixtureCard, Home } from '../../engine/types';
import { Page } from '../../ui';
import { t } from '../../words';
import { AsideView } from './AsideView';
import './aside.css';
import { type Asides as Known, useAsides } from './useAsides';

/** /asides: what the server took in but kept apart: why, and what can be done. */
export function Asides() {
  const known = useAsides();
  const { answer } = useAsk('home', {});
  return (
    <Page title={t('aside.page')} back="/">
      <div class="says lead">
        <p>{lead(known)}</p>
      </div>
      <p class="small soft">{t('aside.what')}</p>
      {known.list?.map((aside) => (
        <AsideView key={aside.hash} aside={aside} fixture={fixtureOf(answer, aside.fixture)} onDone={known.again} />
      ))}
    </Page>
  );
}

function lead({ list, fault }: Known): string {
  if (fault !== '') return fault === 'offline' ? t('aside.offline') : t('fault.ask', { code: fault });
  if (list === null) return t('loading');
  return list.length === 0 ? t('aside.none') : t('aside.lead', { n: list.length });
}

function fixtureOf(home: Home | undefined, id: string): FixtureCard | undefined {
  return home?.sites.flatMap(({ fixtures }) => fixtures).find((fixture) => fixture.id === id);
}
