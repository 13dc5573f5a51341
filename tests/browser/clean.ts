/** axe (WCAG 2.2 A and AA) finds nothing on a screen, in light and in dark; nothing overflows sideways; buttons and fields are a thumb high. */
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { expect } from './fixtures';

const touch = 44; // px
const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
// No frames here: in its older mode axe needs no second page for its results.
const axe = (page: Page) => new AxeBuilder({ page }).setLegacyMode();

async function found(builder: AxeBuilder, where: string) {
  const { violations } = await builder.analyze();
  expect(violations.map(({ id, nodes }) => `${where}: ${id}: ${nodes.map((n) => n.target.join(' ')).join(' | ')}`)).toEqual([]);
}

/** Checks the screen as it stands, then its colours in the other scheme: nothing else differs between light and dark. */
export async function clean(page: Page, where: string) {
  const isDark = () => page.evaluate(() => matchMedia('(prefers-color-scheme: dark)').matches);
  await found(axe(page).withTags(tags), where);
  const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  expect(over, `${where} overflows sideways`).toBeLessThanOrEqual(0);
  const low = await page.evaluate(
    (least) =>
      [...document.querySelectorAll('button, select, textarea, .btn, input:not([type=hidden], [type=radio], [type=checkbox], .sr)')]
        .map((each) => ({ each, height: each.getBoundingClientRect().height }))
        .filter(({ height }) => height > 0 && height < least)
        .map(({ each, height }) => `${each.outerHTML.slice(0, 120)} is ${height} px high`),
    touch,
  );
  expect(low, where).toEqual([]);
  const dark = await isDark();
  await page.emulateMedia({ colorScheme: dark ? 'light' : 'dark', reducedMotion: 'reduce' });
  expect(await isDark()).toBe(!dark);
  await found(axe(page).withRules(['color-contrast']), `${where}, ${dark ? 'light' : 'dark'}`);
  await page.emulateMedia({ colorScheme: dark ? 'dark' : 'light', reducedMotion: null });
}
