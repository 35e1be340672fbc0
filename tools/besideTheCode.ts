/** Files that stand beside the code and go where it goes. */
export const besideTheCode = [
  'models',
  'src/gallery/look',
  'src/shop/pages/orders.css',
  'src/host/plan/paper/fonts',
  'demo/frames.br',
  'demo/boxes.json',
];
