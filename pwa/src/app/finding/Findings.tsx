import { useState } from 'preact/hooks';
import { named, status, useAsk } from '../../engine/client';
import type { FindingCard } from '../../engine/types';
import { Choice, Page, Select, useGradual } from '../../ui';
import { t } from '../../words';
import { useDesk } from '../desk/useDesk';
import '../desk/desk.css';
import { FindingCards } from './FindingCards';
import './finding.css';
import { FindingTable } from './FindingTable';

/** Which findings are listed. */
const which = ['unreviewed', 'open', 'waiting', 'all'] as const;
type Which = (typeof which)[number];

/** /findings: the engineer's list, those without a review first. */
export function Findings() {
  const [only, setOnly] = useState<Which>('unreviewed');
  const [site, setSite] = useState('');
  const wide = useDesk();
  const asked = useAsk('findings', { ...(only !== 'all' && { only }), ...(site && { site }) });
  return (
    <Page title={t('findings.title')} back="/">
      <div class="findings-choice">
        <Choice
          legend={t('findings.which')}
          layout="flow"
          quiet
          slim
          options={which.map((value) => ({ value, words: t(`findings.${value}`) }))}
          value={only}
          onChoose={setOnly}
        />
        <BySite site={site} onChoose={setSite} />
      </div>
      <Listed asked={asked} only={only} wide={wide} />
    </Page>
  );
}

function Listed({ asked, only, wide }: { asked: ReturnType<typeof useAsk<'findings'>>; only: Which; wide: boolean }) {
  if (asked.fault !== undefined) return <p class="wrong" role="alert">{t('fault.ask', { code: named(asked.fault) })}</p>;
  if (asked.answer === undefined) return <p>{t('loading')}</p>;
  const { findings } = asked.answer;
  if (findings.length === 0) return <p class="strong">{t(`findings.none-${only}`)}</p>;
  return (
    <>
      <p class="strong">{t(`findings.lead-${only}`, { n: findings.length })}</p>
      <Cards all={findings} wide={wide} />
    </>
  );
}

function Cards({ all, wide }: { all: readonly FindingCard[]; wide: boolean }) {
  const cards = all.slice(0, useGradual(all.length));
  return wide ? <FindingTable cards={cards} /> : <FindingCards cards={cards} />;
}

function BySite({ site, onChoose }: { site: string; onChoose: (site: string) => void }) {
  const sites = status.value.me?.sites ?? [];
  if (sites.length < 2) return null;
  const all = { value: '', words: t('findings.site-all') };
  return (
    <Select
      label={t('findings.site')}
      options={[all, ...sites.map(({ id, name }) => ({ value: id, words: name }))]}
      value={site}
      onChoose={onChoose}
    />
  );
}
