import { describe, expect, test } from 'vitest';
import { joinUnits } from '../../src/report/joinUnits.ts';

describe('joinUnits', () => {
  test.each([
    ['1.80 kg in stock, 246 g more', '1.80\u00a0kg in stock, 246\u00a0g more'],
    ['2 lb 5.6 oz more', '2\u00a0lb 5.6\u00a0oz more'],
    ['about 5 % after 17 min', 'about 5\u00a0% after 17\u00a0min'],
    ['22.3 in³ and 3.41 ft²', '22.3\u00a0in³ and 3.41\u00a0ft²'],
  ])('%s', (sentence, joined) => {
    expect(joinUnits(sentence)).toBe(joined);
  });

  test.each(['at coat 3 (Reinforced)', '2 halves', '4 more', 'day 2 gone', 'in 3 inches'])(
    'leaves alone what is no unit: %s',
    (sentence) => {
      expect(joinUnits(sentence)).toBe(sentence);
    },
  );
});
