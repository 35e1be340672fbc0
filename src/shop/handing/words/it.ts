import type { HandingWords } from './en.js';

export const it: HandingWords = {
  title: 'Le tue foto',
  allInOne: (size) => `Tutte in un file (zip, ${size})`,
  resumes: 'Se la linea cade, ricomincia: riprende da dove si era fermata.',
  one: (number) => `Foto ${number}`,
  goodUntil: (date) => `Questo link vale fino al ${date}. Chi lo ha può prendere le foto.`,
  making: (ready, all) =>
    `${ready} su ${all} sono pronte, le altre sono in lavorazione. Ricarica la pagina tra un minuto.`,
  waitsForLaptop: (ready, all) =>
    `${ready} su ${all} sono pronte. Le altre aspettano che il portatile del fotografo sia collegato.`,
  cannot: (count) => `Non si sono potute fare: ${count}. Il fotografo lo vede.`,
  waitsForSigns:
    'Che tutte queste foto mostrino la stessa persona è in parte supposto. Vengono guardate prima di essere consegnate.',
  expired: 'Questo link è scaduto',
  expiredWords: 'Uno nuovo può essere mandato all’indirizzo e-mail dell’ordine.',
  renew: 'Manda un nuovo link',
  revoked: 'Questo link è stato ritirato',
  revokedWords: 'Il fotografo lo ha ritirato. Scrivigli se è un errore.',
  nothing: 'Qui non c’è più niente da prendere',
  nothingWords: 'L’ordine è stato rimborsato o annullato, o le sue foto sono state tolte.',
  sent: 'Parte una lettera',
  sentWords:
    'Se l’ordine vale ancora, tra pochi minuti parte un link al suo indirizzo e-mail, al massimo una volta ogni quarto d’ora. Guarda anche nella posta indesiderata.',
  noLetters: 'Da qui non partono lettere. Il link sta nella pagina dell’ordine; oppure scrivi al fotografo.',
  letterWaits: 'La lettera con il link alle foto è in viaggio verso l’indirizzo e-mail dell’ordine.',
  letterSent: 'Il link alle foto è partito per l’indirizzo e-mail dell’ordine.',
  letterFailed: 'La lettera con il link non è arrivata. L’indirizzo e-mail è giusto? Scrivi al fotografo.',
  sendAgain: 'Mandala ancora',
  open: 'Scarica le tue foto',
  subject: (meeting) => `Le tue foto: ${meeting}`,
  hello: (name) => `Ciao ${name},`,
  ready: 'le tue foto sono pronte. Questo link le apre:',
  orderPage: 'Il tuo ordine e la ricevuta:',
  agreed: (when) => `Il ${when} hai accettato questo:`,
  notYou: 'In una foto c’è qualcun altro? Rispondi a questa lettera: si corregge o si rimborsa.',
};
