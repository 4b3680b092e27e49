import { t } from '../words';
import { offer, takeBack } from './offer';

/** The bar that offers to undo; it stands above the main act on every page. */
export function Undo() {
  const now = offer.value;
  return (
    <div role="status">
      {now !== null && (
        <div class="undo">
          <span>{now.says}</span>
          <button type="button" onClick={() => void takeBack()}>
            {t('undo')}
          </button>
        </div>
      )}
    </div>
  );
}
