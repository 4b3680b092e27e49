import { useRoute } from 'preact-iso';
import { useAsk } from '../../engine/client';
import type { Fixture } from '../../engine/types';
import { Button, Page } from '../../ui';
import { t } from '../../words';
import { Answered } from '../Answered';
import { supervises } from '../duty';
import './desk.css';
import { About } from './edit/About';
import { Joints } from './edit/Joints';
import { Label } from './edit/Label';
import { Move } from './edit/Move';
import { Photo } from './edit/Photo';
import { ProgramEdit } from './edit/ProgramEdit';
import { Retired } from './edit/Retired';
import { Tag } from './edit/Tag';

/** /f/:id/edit: a fixture's name, tag, program and joints. */
export function FixtureEdit() {
  const id = useRoute().params.id ?? '';
  const asked = useAsk('fixture', { id });
  return (
    <Answered asked={asked} back={`/f/${id}`}>
      {(fixture) => (
        <Page title={t('edit.title', { name: fixture.name })} back={`/f/${id}`} act={<Done id={id} />}>
          {supervises(fixture.site) ? <Whole fixture={fixture} /> : <p class="wrong">{t('desk.not-allowed')}</p>}
        </Page>
      )}
    </Answered>
  );
}

function Whole({ fixture }: { fixture: Fixture }) {
  return (
    <div class="edit">
      <div class="edit-joints">
        <Joints fixture={fixture} />
        <Retired joints={fixture.retired} />
      </div>
      <div class="edit-side">
        <About key={`about-${fixture.id}`} fixture={fixture} />
        <Photo key={`photo-${fixture.id}`} fixture={fixture} />
        <Move key={`move-${fixture.site}`} fixture={fixture} />
        <Label fixture={fixture} />
        <Tag key={`tag-${fixture.id}`} fixture={fixture} />
        <ProgramEdit key={`program-${fixture.id}`} fixture={fixture} />
      </div>
    </div>
  );
}

function Done({ id }: { id: string }) {
  return (
    <Button kind="main" href={`/f/${id}`}>
      {t('finding.to-fixture')}
    </Button>
  );
}
