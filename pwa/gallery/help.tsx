import { type Drawn, Drawing } from '../src/app/help/Drawing';
import '../src/app/help/help.css';
import { Measure } from '../src/app/help/Measure';
import { HelpLink } from '../src/ui';
import type { Exhibit } from './Shelf';

const drawn: readonly Drawn[] = ['single', 'froth-creeping', 'string', 'growing-bursting', 'heard', 'blown-off'];

/** The drawings of the help, and the way there. */
export const help: Exhibit[] = [
  { name: 'help, the way there', shown: <HelpLink topic="count" /> },
  ...drawn.map((of) => ({ name: `bubbles, ${of}`, shown: <Drawing of={of} /> })),
  { name: 'gas collected in a measure', shown: <Measure volume="volume" head="head" /> },
];
