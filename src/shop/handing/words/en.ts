/** English; the other languages have the same words in the same holes. */
export const en = {
  title: 'Your pictures',
  allInOne: (size: string) => `All in one file (zip, ${size})`,
  resumes: 'If the line breaks, fetch it again: it goes on where it stopped.',
  one: (number: number) => `Picture ${number}`,
  goodUntil: (date: string) => `This link is good until ${date}. Whoever has it can fetch the pictures.`,
  making: (ready: number, all: number) =>
    `${ready} of ${all} are ready, the others are being made. Load this page again in a minute.`,
  waitsForLaptop: (ready: number, all: number) =>
    `${ready} of ${all} are ready. The others wait until the photographer’s laptop is connected.`,
  cannot: (count: number) => `Could not be made: ${count}. The photographer can see that.`,
  waitsForSigns:
    'That all of these pictures are of one rider was partly guessed. People look through them before they are handed over.',
  expired: 'This link has run out',
  expiredWords: 'A fresh one can be sent to the e-mail address of the order.',
  renew: 'Send a fresh link',
  revoked: 'This link was taken back',
  revokedWords: 'The photographer has taken it back. Write to them if that is a mistake.',
  nothing: 'There is nothing to fetch here any more',
  nothingWords: 'The order was paid back or cancelled, or its pictures were taken down.',
  sent: 'A letter goes out',
  sentWords:
    'If the order still stands, a link goes to its e-mail address within minutes, once in a quarter of an hour at most. Look among the unwanted mail, too.',
  noLetters: 'No letters are sent from here. The link stands on the page of the order; or write to the photographer.',
  letterWaits: 'The letter with the link to the pictures is on its way to the e-mail address of the order.',
  letterSent: 'The link to the pictures went to the e-mail address of the order.',
  letterFailed: 'The letter with the link did not arrive. Is the e-mail address right? Write to the photographer.',
  sendAgain: 'Send it again',
  open: 'Fetch your pictures',
  subject: (meeting: string) => `Your pictures: ${meeting}`,
  hello: (name: string) => `Hello ${name},`,
  ready: 'your pictures are ready. This link opens them:',
  orderPage: 'Your order and its receipt:',
  agreed: (when: string) => `You agreed to this on ${when}:`,
  notYou: 'Is somebody else in a picture? Answer this letter, and it is put right or paid back.',
};
export type HandingWords = typeof en;
