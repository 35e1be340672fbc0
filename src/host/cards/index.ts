export {
  type ClockByCard,
  clocksByCards,
  personOfCard,
  type RiderByCard,
  ridersByCards,
  rollCalled,
} from './cardsSeen.js';
export { cardsOfMeeting, type MeetingCards, numberCardToken } from './knownCards.js';
