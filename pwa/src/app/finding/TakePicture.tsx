import { useState } from 'preact/hooks';
import { t } from '../../words';
import { offerWithdrawal, useSaving } from '../save';
import { keep } from './keep';

interface Props {
  site: string;
  fixture: string;
  /** What it is of: a finding, or the fixture itself. */
  of: string;
  words: string;
}

/** Takes a picture, or a file of one, and keeps it. */
export function TakePicture({ site, fixture, of, words }: Props) {
  const [wrong, setWrong] = useState('');
  const { problem, save } = useSaving();
  const take = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    input.value = '';
    if (file === undefined) return;
    const kept = await keep(file);
    setWrong('wrong' in kept ? kept.wrong : '');
    if ('wrong' in kept) return;
    const written = await save([{ kind: 'picture-added', site, fixture, of, body: kept.picture }]);
    if (written !== null) offerWithdrawal(t('finding.picture-kept'), site, written);
  };
  return (
    <>
      {(wrong || problem) && <p class="wrong" role="alert">{wrong || problem}</p>}
      <label class="button quiet picture-add">
        <input type="file" class="spoken" accept="image/*" capture="environment" onChange={(event) => void take(event.currentTarget)} />
        {words}
      </label>
    </>
  );
}
