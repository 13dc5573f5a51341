/** What a question looks for on the fixes. */
import { expect, test } from 'vitest';
import { readSymptom } from '@/lib/core/symptom/read';
import { askWith } from '@/lib/search/ask';
import { lexiconFor } from '@/lib/search/language';
import { givenGroups } from '@/lib/search/thesaurus';

const lexicon = lexiconFor([], givenGroups, null);
const ask = (sentence: string) => askWith(readSymptom(sentence, lexicon), [], () => 1);
const denied = (sentence: string) => ask(sentence).items.flatMap((i) => (i.without ? i.options.map(([feature]) => feature) : []));

test('what is denied and understood denies that alone, none of its words', () => {
  expect(denied('the arrow insert is dead except after twenty minutes of play')).toEqual(['when:warm']);
  expect(denied('the left sling counts twice, but not when the cabinet is hit')).toEqual(['when:hit']);
});

test('what is denied and not understood denies its words', () => {
  expect(denied('the spinner is dead, but not the purple one')).toContain('w:purpl');
});

test.each([
  ['the bonus lamp has gone out', 'dead'],
  ['the kickout hole will not go', 'dead'],
  ['the light will not go out', 'always'],
])('%s: %s', (sentence, does) => {
  const [first] = readSymptom(sentence, lexicon).terms.filter((t) => t.kind === 'does');
  expect(first?.value).toBe(does);
});
