import type { ComponentChildren } from 'preact';
import { type Fault, named } from '../engine/client';
import { Button, Page } from '../ui';
import { t } from '../words';

/** What useAsk gives. */
interface Asked<Answer> {
  answer: Answer | undefined;
  fault: Fault | undefined;
}

interface Props<Answer> {
  asked: Asked<Answer>;
  /** Where back leads while there is no answer yet. */
  back?: string;
  children: (answer: Answer) => ComponentChildren;
}

/** A page once its answer is there; until then that it waits, or what went wrong. */
export function Answered<Answer>({ asked, back = '/', children }: Props<Answer>) {
  if (asked.answer !== undefined) return <>{children(asked.answer)}</>;
  if (asked.fault === undefined) return <Page title={t('loading')} back={back}>{null}</Page>;
  return (
    <Page title={t('fault.title')} back={back} act={<Reload />}>
      <p role="alert">{t('fault.ask', { code: named(asked.fault) })}</p>
    </Page>
  );
}

function Reload() {
  return (
    <Button kind="main" onPress={() => location.reload()}>
      {t('retry')}
    </Button>
  );
}
