// Finding without leaving the page. Without scripts the same boxes are links to pages, and all of them work.
// @ts-check
(() => {
  const cards = /** @type {HTMLElement[]} */ ([...document.querySelectorAll('[data-rider]')]);
  const says = document.getElementById('fits');
  const ask = document.getElementById('ask');
  const input = /** @type {HTMLInputElement | null} */ (document.getElementById('number'));
  const boxes = /** @type {HTMLElement[]} */ ([...document.querySelectorAll('[data-session], [data-colour]')]);
  if (cards.length === 0 || !says) return;
  const allSaid = says.textContent;

  /** @param {string} name */
  const chosen = (name) => boxes.filter((box) => isOn(box) && box.dataset[name]).map((box) => box.dataset[name]);
  /** @param {HTMLElement} box */
  const isOn = (box) => box.getAttribute('aria-pressed') === 'true';
  /** @param {string | undefined} words @param {(string | undefined)[]} wanted */
  const hasAny = (words, wanted) =>
    wanted.length === 0 || (words ?? '').split(' ').some((word) => wanted.includes(word));

  // What was chosen stays with the page: one looks at a rider, it is another, and goes back.
  const remember = () => {
    const on = boxes.flatMap((box, i) => (isOn(box) ? [i] : []));
    history.replaceState({ on, number: input?.value ?? '' }, '');
  };
  const recall = () => {
    const state = history.state;
    if (state === null || !Array.isArray(state.on)) return;
    for (const [i, box] of boxes.entries()) box.setAttribute('aria-pressed', String(state.on.includes(i)));
    if (input && typeof state.number === 'string') input.value = state.number;
    show();
  };

  const show = () => {
    const sessions = chosen('session');
    const colours = chosen('colour');
    const number = (input?.value ?? '').trim().toUpperCase();
    let fitting = 0;
    for (const card of cards) {
      const fits =
        hasAny(card.dataset.sessions, sessions) &&
        hasAny(card.dataset.colours, colours) &&
        (card.dataset.number ?? '').startsWith(number);
      card.hidden = !fits;
      if (fits) fitting += 1;
    }
    const isAll = sessions.length + colours.length === 0 && number === '';
    says.textContent = isAll
      ? allSaid
      : `${fitting} ${fitting === 1 ? 'rider fits' : 'riders fit'}. Tap once on yours.`;
  };

  /** @param {HTMLElement} box */
  const press = (box) => {
    box.setAttribute('aria-pressed', String(!isOn(box)));
    show();
    remember();
  };
  for (const box of boxes) {
    box.setAttribute('role', 'button');
    box.setAttribute('aria-pressed', 'false');
    box.addEventListener('click', (event) => {
      event.preventDefault();
      press(box);
    });
    box.addEventListener('keydown', (event) => {
      if (event.key !== ' ') return;
      event.preventDefault();
      press(box);
    });
  }
  input?.addEventListener('input', () => {
    show();
    remember();
  });
  document.getElementById('clear')?.addEventListener('click', () => {
    for (const box of boxes) box.setAttribute('aria-pressed', 'false');
    if (input) input.value = '';
    show();
    remember();
  });
  recall();
  if (ask) ask.hidden = false;
})();
