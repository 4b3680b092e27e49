/** How long the certificate lasts, in words. */
import type { Connection, Lasting } from '../../link/types';
import { said, t } from '../../words';
import { moment } from '../../words/when';

/** What needs somebody, '' when nothing does. */
export function pressing({ certificate, authority, trouble, way }: Connection): string {
  if (certificate && certificate.warning !== 'fine') return ofCertificate(certificate, way);
  if (authority && authority.warning !== 'fine') return ofAuthority(authority);
  return trouble ? ofTrouble(way) : '';
}

/** That a newer certificate cannot be had. */
export function ofTrouble(way: string): string {
  return said('upkeep', `cert-trouble-${way}`);
}

/** How long the certificate in use lasts. */
export function ofCertificate({ ends, days, warning }: Lasting, way: string): string {
  const time = moment(ends);
  if (warning === 'fine') return t(way === 'files' ? 'upkeep.cert-files' : 'upkeep.cert', { time });
  if (warning === 'ended') return t('upkeep.cert-ended', { time });
  return days < 1 ? t('upkeep.cert-today', { time }) : t('upkeep.cert-near', { n: days, time });
}

/** How long the installation's own authority lasts. */
export function ofAuthority({ ends, days, warning }: Lasting): string {
  const time = moment(ends);
  if (warning === 'fine') return t('upkeep.authority', { time });
  if (warning === 'ended') return t('upkeep.authority-ended', { time });
  return days < 1 ? t('upkeep.authority-today', { time }) : t('upkeep.authority-near', { n: days, time });
}
