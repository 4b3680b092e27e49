/** The small parts that every screen is made of. */
import './theme.css';
import './base.css';
import './parts.css';
import './forced.css';

export { Bar } from './Bar';
export { Button } from './Button';
export { Caution } from './Caution';
export { Choice, type Option } from './Choice';
export { Chip } from './Chip';
export { Exchange } from './Exchange';
export { Export } from './Export';
export { Field, Select } from './Field';
export { Figure, unitWords } from './Figure';
export { Going } from './Going';
export { HelpLink, type Topic, topics } from './HelpLink';
export { byKeys } from './keyboard';
export { Mark, MarkShape } from './Mark';
export { NumberPad } from './NumberPad';
export { Page } from './Page';
export { phrase, Says, share } from './Says';
export { Settings } from './Settings';
export { Sheet } from './Sheet';
export { markWords, Strip } from './Strip';
export { TakeUpdate } from './TakeUpdate';
export { useGradual } from './useGradual';
export { useModal } from './useModal';
export { offerUndo, passOffer } from './offer';
