/** The small parts that every screen is made of. */
import './theme.css';
import './base.css';
import './parts.css';

export { Bar } from './Bar';
export { Button } from './Button';
export { Caution } from './Caution';
export { Choice } from './Choice';
export { Chip } from './Chip';
export { Export } from './Export';
export { Field, Select } from './Field';
export { Figure, unitWords } from './Figure';
export { Mark, MarkShape } from './Mark';
export { NumberPad } from './NumberPad';
export { Page } from './Page';
export { phrase, Says, share } from './Says';
export { Settings } from './Settings';
export { Sheet } from './Sheet';
export { Strip } from './Strip';
export { offerUndo } from './offer';
