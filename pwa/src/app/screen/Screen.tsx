import { useLocation } from 'preact-iso';
import { useState } from 'preact/hooks';
import { Button, Choice, Page } from '../../ui';
import { said, t } from '../../words';
import './screen.css';
import { fine, guess, keep, kept, type Known, known, least, most, perMm, shownNow, within } from './screen';

const things = Object.keys(known) as Known[];

/** /screen: fits drawings to something of known size that is laid on the glass. */
export function Screen() {
  const { query, route } = useLocation();
  const back = query.from?.startsWith('/r/') ? query.from : '/phone';
  const [by, setBy] = useState<Known>('card');
  const [scale, setScale] = useState(() => within(perMm() ?? kept()?.perMm ?? guess(shownNow())));
  const save = () => {
    keep(scale);
    route(back);
  };
  const act = (
    <>
      <Grow scale={scale} onScale={setScale} />
      <Button kind="main" onPress={save}>{t('screen.save')}</Button>
    </>
  );
  const words = (
    <>
      <p class="small">{t(by === 'card' ? 'screen.card' : 'screen.coin')}</p>
      <Choice
        legend={t('screen.by')}
        quiet
        slim
        options={things.map((value) => ({ value, words: said('screen.by', value) }))}
        value={by}
        onChoose={setBy}
      />
    </>
  );
  return (
    <Page title={t('screen.title')} back={back} act={act}>
      <div class="screen">
        <div class={`screen-fit ${by === 'card' ? 'lines' : 'round'}`} style={sized(by, scale)}>
          {by === 'card' && words}
        </div>
        {by !== 'card' && words}
        <p class="small soft">{t('screen.lead')}</p>
      </div>
    </Page>
  );
}

/** A card lies across the screen and over the words, its long edges on the lines: so it may be wider than the glass. */
function sized(by: Known, scale: number) {
  const px = `${known[by] * scale}px`;
  return by === 'card' ? { height: px } : { height: px, width: px };
}

function Grow({ scale, onScale }: { scale: number; onScale: (scale: number) => void }) {
  const by = (step: number) => () => onScale(within(scale + step));
  return (
    <div class="screen-grow">
      <button type="button" class="pick" aria-label={t('screen.shrink')} onClick={by(-fine)}>−</button>
      <input
        type="range"
        aria-label={t('screen.slider')}
        min={least}
        max={most}
        step={fine}
        value={scale}
        onInput={(event) => onScale(within(Number(event.currentTarget.value)))}
      />
      <button type="button" class="pick" aria-label={t('screen.grow')} onClick={by(fine)}>+</button>
    </div>
  );
}
