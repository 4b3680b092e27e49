/** Every part of the screens in every state, to look at while drawing. Development only: it is no part of the app. */
import { render } from 'preact';
import '../src/ui';
import '../src/ui/page.css';
import { dress } from '../src/ui/theme';
import { preferred, speak } from '../src/words';
import { acts } from './acts';
import { ends } from './ends';
import './gallery.css';
import { help } from './help';
import { leaks } from './leaks';
import { looks } from './looks';
import { parts } from './parts';
import { sheets } from './sheets';
import { type Exhibit, Shelf } from './Shelf';

const shelves: Record<string, Exhibit[]> = { parts, looks, acts, leaks, ends, help, sheets };

// Each stands in its place here, beside the others, instead of over all.
HTMLDialogElement.prototype.showModal = HTMLDialogElement.prototype.show;

dress();
void speak(preferred()).then(() => {
  const root = document.getElementById('gallery');
  if (root === null) return;
  const all = Object.entries(shelves).map(([name, exhibits]) => <Shelf key={name} name={name} exhibits={exhibits} />);
  render(<>{all}</>, root);
  document.documentElement.dataset.ready = 'true';
});
