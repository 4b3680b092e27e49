import { useLocation, useRoute } from 'preact-iso';
import { useEffect, useState } from 'preact/hooks';
import { Button, Page } from '../ui';
import { t } from '../words';
import { changed } from '../engine/client';
import { Answer, registering } from './Answer';
import { type Outcome, tagOf } from './outcome';

/** /t/CODE: the link that a tag holds, opened by any camera app: leads to the fixture. */
export function TagLink() {
  const { params } = useRoute();
  const { route } = useLocation();
  const [outcome, setOutcome] = useState<Outcome | null>(null);
  const code = params.code ?? '';
  useEffect(() => {
    void tagOf(code).then((next) => {
      setOutcome(next);
      if (next.fixture !== undefined) route(`/f/${next.fixture}`, true);
    });
  }, [code, changed.value]);
  return (
    <Page title={t('scan.title')} back="/" act={<>{registering(outcome)}<Button href="/scan">{t('scan.next')}</Button></>}>
      {outcome !== null && outcome.fixture === undefined && <Answer outcome={outcome} />}
    </Page>
  );
}
