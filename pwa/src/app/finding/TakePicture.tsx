import { useState } from 'preact/hooks';
import type { Arrow } from '../../engine/types';
import { t } from '../../words';
import { offerWithdrawal, useSaving } from '../save';
import { drawnFrom, keep } from './keep';
import { MarkPicture } from './MarkPicture';
import type { Redrawn } from './picture';

interface Props {
  site: string;
  fixture: string;
  /** What it is of: a finding, or the fixture itself. */
  of: string;
  words: string;
}

/** Takes a picture, or a file of one, lets arrows be drawn into it, and keeps it. */
export function TakePicture({ site, fixture, of, words }: Props) {
  const [wrong, setWrong] = useState('');
  const [drawn, setDrawn] = useState<Redrawn | null>(null);
  const { problem, save } = useSaving();
  const take = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    input.value = '';
    if (file === undefined) return;
    const made = await drawnFrom(file);
    setWrong('wrong' in made ? made.wrong : '');
    setDrawn('drawn' in made ? made.drawn : null);
  };
  const keepIt = async (picture: Redrawn, arrows: Arrow[]) => {
    const kept = await keep(picture, arrows);
    setWrong('wrong' in kept ? kept.wrong : '');
    setDrawn(null);
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
      {drawn && <MarkPicture drawn={drawn} onKeep={(arrows) => void keepIt(drawn, arrows)} onClose={() => setDrawn(null)} />}
    </>
  );
}
