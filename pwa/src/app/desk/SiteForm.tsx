import { useState } from 'preact/hooks';
import type { Site } from '../../engine/types';
import { Button, Field, Sheet } from '../../ui';
import { t } from '../../words';
import { addSite, changeSite, refusal } from './sites';

interface Props {
  /** The site to rename; a new one where it is left out. */
  site?: Site;
  onDone: () => void;
}

/** A new site, or another name for one. */
export function SiteForm({ site, onDone }: Props) {
  const [name, setName] = useState(site?.name ?? '');
  const [place, setPlace] = useState(site?.place ?? '');
  const [wrong, setWrong] = useState('');
  const [busy, setBusy] = useState(false);
  const save = async () => {
    setBusy(true);
    try {
      if (site === undefined) await addSite(name.trim(), place.trim());
      else await changeSite(site.id, name.trim(), place.trim());
      onDone();
    } catch (fault) {
      setWrong(refusal(fault));
      setBusy(false);
    }
  };
  return (
    <Sheet title={site === undefined ? t('sites.add') : t('sites.rename-of', { name: site.name })} onClose={onDone}>
      <Field label={t('sites.name')} value={name} onInput={setName} />
      <Field label={t('sites.place')} value={place} onInput={setPlace} />
      {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
      <Button kind="main" disabled={busy || name.trim() === ''} onPress={() => void save()}>
        {t('save')}
      </Button>
    </Sheet>
  );
}
