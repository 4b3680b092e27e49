import { useRoute } from 'preact-iso';
import { useAsk } from '../../engine/client';
import { Button, Page } from '../../ui';
import { t } from '../../words';
import { Answered } from '../Answered';
import '../desk/desk.css';
import { ProgramEdit } from '../desk/edit/ProgramEdit';
import { records } from '../duty';

/** /f/:id/program: how a fixture that was just registered is tested, where that is known. */
export function ProgramPage() {
  const id = useRoute().params.id ?? '';
  const asked = useAsk('fixture', { id });
  return (
    <Answered asked={asked} back={`/f/${id}`}>
      {(fixture) => (
        <Page title={fixture.name} back={`/f/${id}`} act={<Button href={`/f/${id}`}>{t('register.done')}</Button>}>
          {records(fixture.site) ? <ProgramEdit key={fixture.id} fixture={fixture} /> : <p class="wrong">{t('register.not-allowed')}</p>}
        </Page>
      )}
    </Answered>
  );
}
