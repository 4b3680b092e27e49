import { useLocation, useRoute } from 'preact-iso';
import { Button, type Topic, Page, topics } from '../../ui';
import { t } from '../../words';
import type { Say } from '../../words/help';
import { Bubbles } from './Bubbles';
import { Collecting, Counting, Limits, Order } from './Doing';
import './help.css';
import { useSay } from './useSay';
import { Words } from './Words';

const pages = { bubbles: Bubbles, count: Counting, collect: Collecting, order: Order, limits: Limits, words: Words };

/** /help and /help/:topic: what is seen, what to do, why numbers are as they are. Kept with the app: no network is needed. */
export function Help() {
  const { topic = '' } = useRoute().params;
  const { query } = useLocation();
  const say = useSay();
  const known = topics.find((one) => one === topic);
  if (say === null) return <Page title={t('help.title')} back="/">{null}</Page>;
  return known ? <TopicPage topic={known} from={ownPath(query.from)} say={say} /> : <Index say={say} />;
}

/** A path of this app; anything else leads nowhere. */
function ownPath(from: string | undefined): string | undefined {
  return from !== undefined && /^\/(?![/\\])/.test(from) ? from : undefined;
}

function Index({ say }: { say: Say }) {
  return (
    <Page title={say('title')} back="/">
      <p>{say('lead')}</p>
      <nav class="help-topics" aria-label={say('title')}>
        {topics.map((topic) => (
          <Button key={topic} kind="quiet" href={`/help/${topic}`}>
            {say(`topic.${topic}`)}
          </Button>
        ))}
      </nav>
    </Page>
  );
}

function TopicPage({ topic, from, say }: { topic: Topic; from: string | undefined; say: Say }) {
  const Content = pages[topic];
  const next = topics[topics.indexOf(topic) + 1];
  const act = from ? (
    <Button kind="main" href={from}>
      {t('back')}
    </Button>
  ) : (
    <Button href={next ? `/help/${next}` : '/help'}>{next ? say('next', { name: say(`topic.${next}`) }) : say('title')}</Button>
  );
  return (
    <Page title={say(`topic.${topic}`)} back={from ?? '/help'} act={act}>
      <Content say={say} />
    </Page>
  );
}
