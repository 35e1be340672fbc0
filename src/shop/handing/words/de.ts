import type { HandingWords } from './en.js';

export const de: HandingWords = {
  title: 'Ihre Bilder',
  allInOne: (size) => `Alle in einer Datei (Zip, ${size})`,
  resumes: 'Reißt die Verbindung ab, noch einmal holen: Es geht dort weiter, wo es aufgehört hat.',
  one: (number) => `Bild ${number}`,
  goodUntil: (date) => `Dieser Link gilt bis ${date}. Wer ihn hat, kann die Bilder holen.`,
  making: (ready, all) =>
    `${ready} von ${all} sind fertig, die übrigen werden gerade gemacht. Laden Sie die Seite in einer Minute neu.`,
  waitsForLaptop: (ready, all) =>
    `${ready} von ${all} sind fertig. Die übrigen warten, bis der Laptop des Fotografen verbunden ist.`,
  cannot: (count) => `Nicht gemacht werden konnten: ${count}. Der Fotograf sieht das.`,
  waitsForSigns:
    'Dass alle diese Bilder eine Person zeigen, ist zum Teil geraten. Sie werden angesehen, bevor sie übergeben werden.',
  expired: 'Dieser Link ist abgelaufen',
  expiredWords: 'Ein neuer kann an die E-Mail-Adresse der Bestellung geschickt werden.',
  renew: 'Neuen Link schicken',
  revoked: 'Dieser Link wurde zurückgenommen',
  revokedWords: 'Der Fotograf hat ihn zurückgenommen. Schreiben Sie ihm, wenn das ein Irrtum ist.',
  nothing: 'Hier gibt es nichts mehr zu holen',
  nothingWords: 'Die Bestellung wurde erstattet oder storniert, oder ihre Bilder wurden zurückgezogen.',
  sent: 'Ein Brief geht hinaus',
  sentWords:
    'Wenn die Bestellung noch gilt, geht in wenigen Minuten ein Link an ihre E-Mail-Adresse, höchstens einmal in einer Viertelstunde. Sehen Sie auch bei der unerwünschten Post nach.',
  noLetters:
    'Von hier gehen keine Briefe hinaus. Der Link steht auf der Seite der Bestellung; oder schreiben Sie dem Fotografen.',
  letterWaits: 'Der Brief mit dem Link zu den Bildern ist unterwegs an die E-Mail-Adresse der Bestellung.',
  letterSent: 'Der Link zu den Bildern ging an die E-Mail-Adresse der Bestellung.',
  letterFailed: 'Der Brief mit dem Link kam nicht an. Stimmt die E-Mail-Adresse? Schreiben Sie dem Fotografen.',
  sendAgain: 'Noch einmal schicken',
  open: 'Ihre Bilder holen',
  subject: (meeting) => `Ihre Bilder: ${meeting}`,
  hello: (name) => `Guten Tag ${name},`,
  ready: 'Ihre Bilder sind fertig. Dieser Link öffnet sie:',
  orderPage: 'Ihre Bestellung und die Quittung:',
  agreed: (when) => `Dem haben Sie am ${when} zugestimmt:`,
  notYou:
    'Ist auf einem Bild jemand anders? Antworten Sie auf diesen Brief, dann wird es berichtigt oder das Geld erstattet.',
};
