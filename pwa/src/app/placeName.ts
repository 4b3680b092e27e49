/** Where a finding is: its joint, and its spot where the round found more than one there. */
import { t } from '../words';

/** The joint's name, with the spot where there is one. */
export function placeName(joint: string, spot: string | undefined): string {
  return spot ? t('leak.spotOf', { joint, spot }) : joint;
}
