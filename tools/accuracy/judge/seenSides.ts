/**
 * Which way the front of single bikes on real pictures points, by eye at half size, before anything was made to tell it. Named by
 * file alone: the pictures may not be copied. Left out is what comes or goes too straight to say.
 */
export const HEADS_LEFT = '0002 0014 0038 0048 0073 0074 0097 0102 0125 0143 0148 0154 0182 0185 0189 0217'.split(' ');
export const HEADS_RIGHT =
  '0004 0009 0042 0057 0086 0088 0092 0105 0107 0115 0120 0124 0129 0131 0138 0152 0156 0166 0187 0194 0210 0215 0216 0233'.split(
    ' ',
  );
