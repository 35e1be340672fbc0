/** Orders at the desk in a real browser, with a real order service behind it: by keys, at both sizes, and while the service is away. */
import { describe, expect, it } from 'vitest';
import { createFakeDay } from '../../src/server/testing/fakeDay.js';
import { type OrderedDay, openOrderedDay } from '../../src/server/testing/orderedDay.js';
import { referenceOf } from '../../src/shop/service/reference.js';
import { hasBrowser } from './deskBrowser.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';
import { goTo, PHONE, tabTo, until, useDesks, WIDE, words } from './sitting.js';

const DAY = { frames: 600, riders: 12 };
const AXE_TIME_LIMIT_MS = 240_000;

describe.skipIf(!hasBrowser('orders at the desk'))('orders at the desk, in a browser', () => {
  const { sit, closeAfter } = useDesks();
  /** Of a day made the same as the desk's. */
  const ordered = async (): Promise<OrderedDay> => {
    const day = closeAfter(createFakeDay(DAY));
    return closeAfter(await openOrderedDay(day));
  };

  it('DK175: by keys alone the money of one comes, of another one picture is a wrong rider’s, and Ctrl+Z takes back neither', async () => {
    const shop = await ordered();
    const second = await shop.place([shop.dayLine(0)]);
    const first = await shop.place([shop.pictureLine(1, 0), shop.pictureLine(2, 2)]);
    const { page, base, desk } = await sit(DAY, { folder: shop.folder, orders: shop.service });
    const said = desk.day.said();
    await tabTo(page, /^orders$/);
    await page.keyboard.press('Enter');
    await page.waitForURL(`${base}/orders`);
    await until(page, 'h1', 'Two orders, two wait for money: £69.00.');
    expect(await words(page, '[aria-expanded="true"]')).toContain(referenceOf(first));
    await page.keyboard.press('m');
    await until(page, '.said-line', `Said for good: £24.00 came for ${referenceOf(first)}`);
    await until(page, 'h1', 'Two orders, one waits for money: £45.00.');
    await page.keyboard.press('Control+z');
    await until(page, '.said-line.refused', 'Give it back instead');
    expect(desk.day.said()).toEqual(said);

    // What waits stands first now; the arrow goes on to the paid one.
    await until(page, '[aria-expanded="true"]', referenceOf(second));
    await page.keyboard.press('ArrowDown');
    await until(page, '[aria-expanded="true"]', referenceOf(first));
    await tabTo(page, /^Picture 2/);
    await page.keyboard.press('Space');
    await until(page, '.open-order .acts', '1 picture leaves the order and £12.00 goes back.');
    await page.keyboard.press('w');
    await until(page, '.said-line', `Said for good: Wrong rider in ${referenceOf(first)}`);
    await until(page, '.order-pictures .out', 'Picture 2: out of the order');
    expect(await words(page, '.order-money')).toContain('£12.00 given back');

    await page.keyboard.press('ArrowUp');
    await until(page, '[aria-expanded="true"]', referenceOf(second));
    await page.keyboard.press('c');
    await page.keyboard.press('b');
    await until(page, '.open-order .acts', 'Money came');
    await page.keyboard.press('c');
    await page.keyboard.press('y');
    await until(page, 'h1', 'Two orders, and nobody owes anything.');
  }, 60_000);

  it('DK173, DK174: a question leads to the frame, is answered by two keys; with the service away the sheet says since when', async () => {
    const shop = await ordered();
    await shop.place([shop.pictureLine(0, 1)]);
    await shop.write('not-me', { picture: shop.offer.riders[0]!.pictures[1]!, words: '<script>alert(1)</script>' });
    const { page, base } = await sit(DAY, { folder: shop.folder, orders: shop.service });
    await goTo(page, base, '/orders');
    await until(page, '.messages blockquote', '<script>alert(1)</script>');
    expect(await page.locator('.message-picture img').getAttribute('src')).toBe(
      `/pictures/${shop.riders[0]!.frames[1]}`,
    );
    const opened = page.waitForEvent('popup');
    await page.keyboard.press('o');
    const van = await opened;
    await van.waitForURL(`${shop.site}/${shop.offer.meeting}`);
    await van.close();
    await page.keyboard.press('a');
    await page.keyboard.press('y');
    await until(page, '.messages', 'Nobody asks anything.');
    await shop.shop.close();
    await page.keyboard.press('f');
    await until(page, '.orders-sheet .urgent', 'The order service was not reached, so this may be old.');
    expect(await words(page, '.orders-fetched')).toContain('Fetched at 13:12.');
    expect(await words(page, 'h1')).toBe('One order, one waits for money: £12.00.');
    await page.keyboard.press('m');
    await until(page, '.said-line.refused', 'Nothing was told.');
  }, 60_000);

  it(
    'DK175: on a desk and on a phone, light and dark, axe finds nothing grave on the sheet and on the van’s screen, and nothing is wider',
    async () => {
      const shop = await ordered();
      const name = 'Ridiculouslylongnamethatnobodywouldgive andyetsomebodydoes';
      await shop.place([shop.dayLine(0), shop.pictureLine(1, 1)], { name });
      await shop.write('cannot-find-me', { session: 'N2', bike: 'red', contact: 'someone@example.org' });
      for (const viewport of [WIDE, PHONE])
        for (const colorScheme of ['light', 'dark'] as const) {
          const size = viewport === PHONE ? 'phone' : 'desk';
          const { page, base } = await sit(
            DAY,
            { folder: shop.folder, orders: shop.service },
            { viewport, colorScheme, bypassCSP: true },
          );
          const checked = async (pressed: string) => {
            await isNoWiderThanScreen(page);
            await hasRoomToPress(page, pressed, size, 4);
            await hasNothingGrave(page);
          };
          await goTo(page, base, '/orders');
          await until(page, '.messages', 'can’t find themselves');
          await checked('.orders-sheet button');
          await page.goto(`${shop.site}/${shop.offer.meeting}/van`);
          await checked('.taps a, .faces a, main button');
        }
    },
    AXE_TIME_LIMIT_MS,
  );
});
