import { choose, language, languages, said, t } from '../words';
import { Choice } from './Choice';
import { gloved, gloves, hand, hands, sound, sounds, theme, themes } from './theme';

/** Language, theme, hand, gloves and sound of this device, for the page about this phone. */
export function Settings() {
  return (
    <div class="settings">
      <Choice
        legend={t('settings.language')}
        options={languages.map((value) => ({ value, words: said('language', value) }))}
        value={language.value}
        onChoose={(value) => void choose(value)}
      />
      <Choice
        legend={t('settings.theme')}
        options={themes.map((value) => ({ value, words: said('theme', value) }))}
        value={theme.value}
        onChoose={(value) => (theme.value = value)}
      />
      <Choice
        legend={t('settings.hand')}
        options={hands.map((value) => ({ value, words: said('hand', value) }))}
        value={hand.value}
        onChoose={(value) => (hand.value = value)}
      />
      <Choice
        legend={t('settings.gloves')}
        options={gloved.map((value) => ({ value, words: said('gloves', value) }))}
        value={gloves.value}
        onChoose={(value) => (gloves.value = value)}
      />
      <Choice
        legend={t('settings.sound')}
        options={sounds.map((value) => ({ value, words: said('sound', value) }))}
        value={sound.value}
        onChoose={(value) => (sound.value = value)}
      />
    </div>
  );
}
