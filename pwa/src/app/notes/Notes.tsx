import { useState } from 'preact/hooks';
import type { NoteCard } from '../../engine/types';
import { Button, Field, Sheet } from '../../ui';
import { t } from '../../words';
import { offerWithdrawal, useSaving } from '../save';
import { who } from '../stamp';
import { useDraft } from '../useDraft';
import './notes.css';

interface Place {
  site: string;
  fixture: string;
  /** What it is about: the fixture, a joint, a round or a look. */
  of: string;
}

/** What was noted, newest first, each with its joint and who wrote it. */
export function NoteList({ notes }: { notes: readonly NoteCard[] }) {
  return (
    <ul class="notes">
      {notes.map((note) => (
        <li key={note.event}>
          <p>
            {note.jointName && <span class="strong">{note.jointName}: </span>}
            {note.text}
          </p>
          <p class="small soft">{who(note.added)}</p>
        </li>
      ))}
    </ul>
  );
}

/** A button that opens a sheet to note something. */
export function AddNote({ place, words = t('note.add'), title }: { place: Place; words?: string; title: string }) {
  const [open, setOpen] = useState(false);
  return (
    <>
      <Button kind="quiet" onPress={() => setOpen(true)}>
        {words}
      </Button>
      {open && <NoteSheet place={place} title={title} onClose={() => setOpen(false)} />}
    </>
  );
}

/** What is being noted; it stays as typed until it is saved, also when the sheet is closed. */
export function NoteSheet({ place, title, onClose }: { place: Place; title: string; onClose: () => void }) {
  const draft = useDraft<string>(`note:${place.of}`, () => '');
  const { problem, save } = useSaving();
  const text = draft.value ?? '';
  const keep = async () => {
    const { site, fixture, of } = place;
    const written = await save([{ kind: 'note-added', site, fixture, of, body: { text: text.trim() } }]);
    if (written === null) return;
    draft.clear();
    onClose();
    offerWithdrawal(t('note.saved'), site, written);
  };
  return (
    <Sheet title={title} onClose={onClose}>
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <Field label={t('note.text')} hint={t('note.hint')} type="textarea" value={text} onInput={draft.set} />
      <Button kind="main" disabled={text.trim() === ''} onPress={() => void keep()}>
        {t('note.save')}
      </Button>
    </Sheet>
  );
}
