/** Mounts the app. The first screen paints from this alone; the engine loads in its worker. */
import { render } from 'preact';
import { App } from './app/App';
import './app/start/install'; // hears the browser's offer to install, which comes once and early
import { begin } from './engine/client';
import { hearErrors } from './engine/errors';
import { keepPlace } from './ui/keyboard';

hearErrors();
begin();
keepPlace();
const root = document.getElementById('app');
if (root) render(<App />, root);
