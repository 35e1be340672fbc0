"""Makes the folder that training carries: digit and letter shapes of many fonts, drawn digits, and blank renders.

    python3 prepare.py FONTS RENDERS WALLPAPERS PAYLOAD

FONTS holds .ttf, .otf and .woff2 files in any depth; RENDERS what renders.ts made; WALLPAPERS
large pictures of free wallpaper packages, of which square parts serve as textures. Nothing of the payload is kept in
the repository. glyphs.npz: masks (count, 48, 60) uint8, a digit's height filling the 48; widths in pixels;
index (fonts, 36) of the digits 0-9 and letters A-Z, -1 where a font has none; weight (fonts), how often it is drawn.
"""
import glob
import os
import sys

import numpy as np
from PIL import Image, ImageDraw, ImageFont

GLYPH_HEIGHT, GLYPH_WIDTH = 48, 60
CHARACTERS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ'
LETTER_FONTS = 90
DRAWN_FONTS = 120
RENDER_EDGE = 352
EXCLUDED = ('math', 'symbol', 'dingbat', 'hebrew', 'arab', 'barcode', 'bars', 'emoji', 'thin', 'hairline', 'extralight',
            'ornament', 'chancery', 'music', 'braille', 'cyr')

# Strokes of each digit on a grid 4 wide and 6 high, y down; several ways of writing each.
STROKES = {
    '0': [['1,0 3,0 4,1 4,5 3,6 1,6 0,5 0,1 1,0'], ['0,0 4,0 4,6 0,6 0,0'], ['2,0 4,2 4,4 2,6 0,4 0,2 2,0']],
    '1': [['0.6,1.4 2,0 2,6'], ['2,0 2,6'], ['0.8,1.2 2,0 2,6', '0.6,6 3.4,6']],
    '2': [['0,1 1,0 3,0 4,1 4,2 0,6 4,6'], ['0,0 4,0 4,3 0,3 0,6 4,6'], ['0,1.3 0.8,0.2 2.2,0 3.6,0.6 3.8,2 0,6 4,6']],
    '3': [['0,1 1,0 3,0 4,1 4,2 3,2.9 1.4,2.9', '3,2.9 4,3.8 4,5 3,6 1,6 0,5'], ['0,0 4,0 4,6 0,6', '0.8,3 4,3'],
          ['0,0 4,0 1.7,2.5 3.2,2.7 4,3.9 3.8,5.2 2.6,6 1,6 0,5.2']],
    '4': [['3,6 3,0 0,4 4,4'], ['0,0 0,3 4,3', '4,0 4,6'], ['0.6,0 0,3.4 4,3.4', '3,1.6 3,6'],
          ['2.8,0 0,3.8 4,3.8', '3,2 3,6']],
    '5': [['4,0 0.4,0 0,2.7 1,2.3 3,2.3 4,3.2 4,5 3,6 1,6 0,5'], ['4,0 0,0 0,2.9 4,2.9 4,6 0,6'],
          ['3.8,0 0.6,0 0.4,2.5 2.4,2.2 3.9,3.4 3.6,5.2 2,6 0.2,5.5']],
    '6': [['4,1 3,0 1,0 0,1 0,5 1,6 3,6 4,5 4,3.4 3,2.6 1,2.6 0,3.4'], ['4,0 0,0 0,6 4,6 4,3 0,3'],
          ['3.2,0 1,2 0,4.2 0.8,5.8 2.4,6 3.8,5 3.6,3.6 2.2,2.8 0.6,3.4']],
    '7': [['0,0 4,0 1.4,6'], ['0,0 4,0 4,6'], ['0,0 4,0 2,3 1.6,6'], ['0,0 4,0 1.6,6', '1.2,3 3.6,3']],
    '8': [['1,2.9 0,2 0,1 1,0 3,0 4,1 4,2 3,2.9 1,2.9 0,3.8 0,5 1,6 3,6 4,5 4,3.8 3,2.9'],
          ['0,0 4,0 4,6 0,6 0,0', '0,3 4,3'], ['3.6,0.8 2,0 0.4,0.8 0.8,2.2 3.4,3.8 3.8,5 2,6 0.2,5 0.6,3.8 3.4,2.2 3.6,0.8']],
    '9': [['4,2.6 3,3.4 1,3.4 0,2.6 0,1 1,0 3,0 4,1 4,5 3,6 1,6 0,5'], ['4,3 0,3 0,0 4,0 4,6 0,6'],
          ['3.8,1.6 2.6,3 1,2.9 0.2,1.6 1,0.2 2.6,0 3.8,1.6 3.4,4 1.4,6']],
}


def cropped(image, floor=60):
    """The ink of an image, or None where there is too little."""
    a = np.asarray(image)
    ys, xs = np.where(a > floor)
    if len(ys) < 30:
        return None
    return a[ys.min():ys.max() + 1, xs.min():xs.max() + 1]


def fitted(ink, scale):
    """Ink scaled so that a digit fills the cell's height, left aligned. Returns the cell and its used width."""
    height = min(GLYPH_HEIGHT, max(6, round(ink.shape[0] * scale)))
    width = min(GLYPH_WIDTH - 2, max(4, round(ink.shape[1] * scale)))
    cell = np.zeros((GLYPH_HEIGHT, GLYPH_WIDTH), np.uint8)
    top = GLYPH_HEIGHT - height
    cell[top:, :width] = np.asarray(Image.fromarray(ink).resize((width, height), Image.LANCZOS))
    return cell, width


def font_shapes(path):
    """Dictionary character -> (cell, width) of a font, or None where it does not serve."""
    font = ImageFont.truetype(path, 160)
    inks = {}
    for character in CHARACTERS:
        box = font.getbbox(character)
        if box[2] - box[0] < 4 or box[3] - box[1] < 4 or box[2] - box[0] > 400:
            continue
        image = Image.new('L', (box[2] - box[0] + 8, box[3] - box[1] + 8), 0)
        ImageDraw.Draw(image).text((4 - box[0], 4 - box[1]), character, font=font, fill=255)
        ink = cropped(image)
        if ink is not None:
            inks[character] = ink
    if not all(digit in inks for digit in CHARACTERS[:10]):
        return None
    heights = np.array([inks[digit].shape[0] for digit in CHARACTERS[:10]])
    # Old-style figures of unequal height are not what is stuck on bikes.
    if heights.min() < 0.8 * heights.max():
        return None
    scale = GLYPH_HEIGHT / heights.max()
    return {character: fitted(ink, scale) for character, ink in inks.items()}


def drawn_shapes(random):
    """Digits as taped or drawn by hand: square or round ends, even or shaky."""
    over = 4
    aspect, thickness = random.uniform(0.42, 0.95), random.uniform(0.1, 0.26)
    is_taped, shake = random.random() < 0.55, random.choice([0, 0.01, 0.025])
    shapes = {}
    for digit, ways in STROKES.items():
        height, width = GLYPH_HEIGHT * over, GLYPH_HEIGHT * over * (aspect if digit != '1' else 0.6 * aspect)
        stroke = thickness * height
        image = Image.new('L', (int(width + 2 * stroke + 40), int(height + 2 * stroke + 40)), 0)
        draw = ImageDraw.Draw(image)
        for way in ways[random.integers(len(ways))]:
            points = np.array([[float(v) for v in pair.split(',')] for pair in way.split()])
            points = points / [4, 6] * [max(width - stroke, 1), height - stroke] + stroke
            points = points + random.normal(0, shake * height, points.shape)
            for a, b in zip(points[:-1], points[1:]):
                along = (b - a) / (np.hypot(*(b - a)) + 1e-6) * stroke / 2
                across = np.array([-along[1], along[0]])
                overlap = along * random.uniform(0.7, 1.2) if is_taped else along * 0
                a2, b2 = a - overlap, b + overlap
                draw.polygon([tuple(p) for p in (a2 - across, a2 + across, b2 + across, b2 - across)], fill=255)
                if not is_taped:
                    for x, y in (a, b):
                        r = stroke / 2
                        draw.ellipse((x - r, y - r, x + r, y + r), fill=255)
        ink = cropped(image)
        shapes[digit] = fitted(ink, GLYPH_HEIGHT / ink.shape[0])
    return shapes


def ordinariness(fonts):
    """How near each font's digits are to the mean digit: ordinary heavy ones are drawn more often."""
    flat = []
    for font in fonts:
        rows = []
        for digit in CHARACTERS[:10]:
            cell, width = font[digit]
            rows.append(np.asarray(Image.fromarray(cell[:, :width]).resize((20, 28))).astype(np.float32).ravel())
        flat.append(rows)
    values = np.array(flat)
    ink = values.mean((1, 2)) / 255
    values = values - values.mean(2, keepdims=True)
    values /= np.linalg.norm(values, axis=2, keepdims=True) + 1e-6
    mean = values.mean(0)
    mean /= np.linalg.norm(mean, axis=1, keepdims=True)
    alike = (values * mean).sum(2).mean(1)
    own = (values * mean).sum(2).min(1)
    weight = np.exp(4 * (alike - alike.max())) * np.where((ink > 0.34) & (ink < 0.75), 1.6, 1.0)
    return alike, own, weight


def textures(folder, payload, most=190, edge=320):
    """Square parts of wallpapers that are not plain."""
    random = np.random.default_rng(11)
    paths = [p for p in sorted(glob.glob(folder + '/**/*.*', recursive=True)) if p.lower().endswith(('.jpg', '.png', '.webp', '.jpeg'))]
    random.shuffle(paths)
    made = 0
    for path in paths[:150]:
        try:
            picture = Image.open(path)
            picture.draft('RGB', (1600, 1600))
            picture = picture.convert('RGB')
        except Exception as error:  # told and left out
            print('left out', os.path.basename(path), str(error)[:60])
            continue
        picture.thumbnail((1100, 1100))
        if min(picture.size) < 400:
            continue
        for _ in range(3):
            side = int(random.integers(300, min(picture.size)))
            left, top = (int(random.integers(0, full - side + 1)) for full in picture.size)
            part = picture.crop((left, top, left + side, top + side)).resize((edge, edge), Image.LANCZOS)
            if np.asarray(part).astype(float).std() > 14 and made < most:
                part.save(f'{payload}/texture{made}.jpg', quality=68)
                made += 1
    return made


def main(font_folder, render_folder, wallpaper_folder, payload):
    os.makedirs(payload, exist_ok=True)
    fonts, seen = [], set()
    paths = [p for p in sorted(glob.glob(font_folder + '/**/*.*', recursive=True))
             if p.lower().endswith(('.ttf', '.otf', '.woff2'))]
    for path in paths:
        name = os.path.basename(path).lower()
        if any(word in name for word in EXCLUDED):
            continue
        try:
            shapes = font_shapes(path)
        except Exception as error:  # a font that cannot be opened is told and left out
            print('left out', name, str(error)[:60])
            continue
        if shapes is None:
            continue
        mark = b''.join(shapes[digit][0].tobytes() for digit in '2358')
        if mark not in seen:
            seen.add(mark)
            fonts.append(shapes)
    alike, own, _ = ordinariness(fonts)
    kept = [font for font, a, o in zip(fonts, alike, own) if a > 0.5 and o > 0.15]
    random = np.random.default_rng(7)
    random.shuffle(kept)
    print(len(paths), 'files', len(fonts), 'fonts', len(kept), 'kept')
    kept = kept[:400]
    lettered = 0
    for index, font in enumerate(kept):
        if lettered < LETTER_FONTS and all(c in font for c in CHARACTERS):
            lettered += 1
        else:
            kept[index] = {digit: font[digit] for digit in CHARACTERS[:10]}
    _, _, weight = ordinariness(kept)
    weight = np.concatenate([weight / weight.sum() * 0.8, np.full(DRAWN_FONTS, 0.2 / DRAWN_FONTS)])
    kept += [drawn_shapes(random) for _ in range(DRAWN_FONTS)]
    masks, widths, index = [], [], np.full((len(kept), len(CHARACTERS)), -1, np.int32)
    for f, font in enumerate(kept):
        for c, character in enumerate(CHARACTERS):
            if character in font:
                index[f, c] = len(masks)
                masks.append(font[character][0])
                widths.append(font[character][1])
    np.savez_compressed(payload + '/glyphs.npz', masks=np.array(masks), widths=np.array(widths, np.int32), index=index,
                        weight=weight.astype(np.float32))
    renders = []
    for path in sorted(glob.glob(render_folder + '/*.jpg')):
        picture = Image.open(path).convert('RGB')
        picture.thumbnail((RENDER_EDGE, RENDER_EDGE))
        picture.save(f'{payload}/{os.path.basename(path)[:-4]}.jpg', quality=72)
        renders.append(path)
    made = textures(wallpaper_folder, payload)
    size = sum(os.path.getsize(f'{payload}/{name}') for name in os.listdir(payload))
    print(len(masks), 'glyphs', lettered, 'fonts with letters', len(renders), 'renders', made, 'textures', round(size / 1e6, 1), 'MB')


if __name__ == '__main__':
    main(*sys.argv[1:5])
