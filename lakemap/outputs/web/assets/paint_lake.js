// The lake: depths, contours, what is not sounded, soundings, zones, shore.
const ZONE_PATTERNS = { swim_area: 'dots', intake: 'grid', hazard: 'lines', no_float: 'cross' };
const ON_LAND_TOO = new Set(['ramp', 'dock']);
const SOLID = { ramp: '#6F777A', dock: '#5C5750' };

function paintLake(b) {
  const { c, palette } = b;
  c.fillStyle = palette.land;
  c.fillRect(0, 0, b.cam.width, b.cam.height);
  const water = b.placed(SCENE.water);
  b.fill(water, palette.water[0]);
  c.save();
  c.clip(water, 'evenodd');
  SCENE.bands.forEach((band, k) => b.fill(b.placed(band), palette.water[k + 1]));
  SCENE.contours.forEach(({ path }, k) => b.stroke(b.placed(path), palette.contour, (k % 2 ? 1 : 0.7) * b.bold));
  const bare = b.placed(SCENE.bare);
  b.fill(bare, '#E6E8E7');
  b.fill(bare, b.pattern('bare'));
  paintSoundingDots(b);
  for (const zone of SCENE.zones) if (!ON_LAND_TOO.has(zone.kind)) paintZone(b, zone);
  c.restore();
  b.stroke(water, palette.shore, 1.7 * b.bold);
  for (const zone of SCENE.zones) if (ON_LAND_TOO.has(zone.kind)) b.fill(b.placed(zone.path), SOLID[zone.kind]);
}

function paintSoundingDots(b) {
  const area = (BOUNDS[2] - BOUNDS[0]) * (BOUNDS[3] - BOUNDS[1]);
  const apart = Math.sqrt(area / (SCENE.soundings.length || 1)) * b.cam.ppm;
  if (apart < 5) return; // they would be a grey veil, not dots
  b.c.fillStyle = b.palette.sounding;
  b.c.globalAlpha = 0.42;
  for (const one of SCENE.soundings) {
    const [px, py] = b.at(one.x, one.y);
    if (b.isSeen(px, py)) b.c.fillRect(px - 0.8, py - 0.8, 1.6, 1.6);
  }
  b.c.globalAlpha = 1;
}

function paintZone(b, zone) {
  const path = b.placed(zone.path);
  const colour = b.palette.zone;
  if (zone.kind === 'frontage') {
    b.c.globalAlpha = b.look.sun ? 0.7 : 0.38;
    b.stroke(path, colour, 0.8 * b.bold, [3, 3]);
    b.c.globalAlpha = 1;
    return;
  }
  b.dots(b.placed(zone.keep), colour, 1 * b.bold, [1, 3.4]);
  b.fill(path, '#fff', zone.kind === 'channel' ? 0.38 : 0.5);
  const pattern = ZONE_PATTERNS[zone.kind];
  if (pattern) b.fill(path, b.pattern(pattern));
  b.stroke(path, colour, 1.5 * b.bold, zone.kind === 'channel' ? [10, 5] : []);
}
