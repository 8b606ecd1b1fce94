// The picture that is drawn over: read and looked at here, never sent anywhere unless it is to be kept.
const MOST_PIXELS = 4096; // a side; a larger picture is shown smaller, its points stay as they are
const MOST_BYTES = 20 * 1024 * 1024;
const BEGINNINGS = [['image/png', [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]], ['image/jpeg', [0xff, 0xd8, 0xff]]];
const SHELF = 'lakemap pictures';
const NO_PICTURE = 'This is no PNG or JPEG picture, whatever its name says. Save it as one of these, then choose it again.';

function kindOf(bytes) {
  const found = BEGINNINGS.find(([, begin]) => begin.every((value, k) => bytes[k] === value));
  return found ? found[0] : null;
}

// The browser's own shelf, so that a picture is there after the page is loaded again.
function shelf(mode, act) {
  return new Promise((resolve) => {
    const opening = window.indexedDB.open(SHELF, 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore('pictures');
    opening.onerror = () => resolve(null);
    opening.onsuccess = () => {
      const asked = act(opening.result.transaction('pictures', mode).objectStore('pictures'));
      asked.onsuccess = () => { resolve(asked.result); opening.result.close(); };
      asked.onerror = () => { resolve(null); opening.result.close(); };
    };
  });
}

function toBase64(bytes) {
  let text = '';
  for (let k = 0; k < bytes.length; k += 32768) text += String.fromCharCode(...bytes.subarray(k, k + 32768));
  return window.btoa(text);
}
const fromBase64 = (text) => Uint8Array.from(window.atob(text), (sign) => sign.charCodeAt(0));

class Picture {
  constructor(app) {
    this.app = app;
    this.bitmap = null;
    this.blob = null;
    this.size = null; // of the file, px
    this.strength = 0.85;
    this.keep = DATA.kept;
    this.told = null; // what the machine said of its points
    this.asked = 0;
  }

  get isShown() { return this.bitmap !== null; }

  // Before its points are known a pixel counts as a metre.
  get matrix() {
    const { picture } = this.app.model.state;
    if (picture && picture.matrix) return picture.matrix;
    return this.size ? [1, 0, 0, -1, -this.size[0] / 2, this.size[1] / 2] : [1, 0, 0, -1, 0, 0];
  }

  // There, but nobody knows yet where it lies.
  get isLoose() { return this.isShown && !this.isFixed; }

  get isFixed() { const { picture } = this.app.model.state; return Boolean(picture && picture.matrix); }

  async read(blob) {
    if (blob.size > MOST_BYTES) throw new Error(`The picture is larger than ${MOST_BYTES / 1048576} MB. Save it smaller, or as a JPEG.`);
    const kind = kindOf(new Uint8Array(await blob.slice(0, 8).arrayBuffer()));
    if (!kind) throw new Error(NO_PICTURE);
    const plain = new Blob([blob], { type: kind });
    let whole;
    try { whole = await createImageBitmap(plain); } catch { throw new Error('This picture is broken: it begins as one, but can\u2019t be shown.'); }
    this.size = [whole.width, whole.height];
    const share = Math.min(1, MOST_PIXELS / Math.max(whole.width, whole.height));
    this.bitmap = share === 1 ? whole : await createImageBitmap(whole, { resizeWidth: Math.round(whole.width * share), resizeHeight: Math.round(whole.height * share), resizeQuality: 'high' });
    this.blob = plain;
  }

  async choose(file) {
    try { await this.read(file); } catch (error) { say(error.message); return; }
    say('');
    const { model } = this.app;
    const { ground, anchored } = model.state;
    this.told = null;
    model.change('chose a picture', { ground: ground === 'field' ? 'field' : 'picture', anchored, picture: { points: [], kind: 'similarity', matrix: null } });
    this.putOnShelf();
    this.app.setTool('point');
    this.app.showWhole();
  }

  takeAway() {
    const { model } = this.app;
    this.bitmap = null;
    this.blob = null;
    this.told = null;
    const isBare = !model.state.shapes.length && !model.state.depths.length && IS_NEW && !model.state.anchored;
    model.change('took the picture away', { picture: null, ...(isBare ? { ground: null, middle: null } : {}) });
    shelf('readwrite', (store) => store.delete(DATA.place));
    this.app.setTool('choose');
  }

  putOnShelf() {
    const { picture } = this.app.model.state;
    if (!this.blob || !picture) return;
    const about = { points: picture.points, kind: picture.kind };
    shelf('readwrite', (store) => store.put({ blob: this.blob, about }, DATA.place));
  }

  // What the browser or the folder has of an earlier hour.
  async restore() {
    let found = await shelf('readonly', (store) => store.get(DATA.place));
    if (!found && DATA.kept) {
      try {
        const kept = await ask('ground-picture', {});
        if (kept.picture) found = { blob: new Blob([fromBase64(kept.picture)]), about: kept.about };
      } catch (error) { say(error.message); }
    }
    if (!found) return;
    try { await this.read(found.blob); } catch (error) { say(error.message); return; }
    const { model } = this.app;
    if (!model.state.picture) {
      const isFresh = !model.isChanged;
      model.amend({ picture: { ...found.about, matrix: null }, ground: model.state.ground || 'picture' });
      if (isFresh) model.base = model.state;
      await this.fix({ quiet: isFresh });
    } else await this.fix();
    this.app.showWhole();
  }

  setPoints(said, points, parts = {}) {
    const { model } = this.app;
    model.change(said, { picture: { ...model.state.picture, points, ...parts } });
    this.fix();
  }

  // Where does it lie? What was traced from it in a new drawing moves along.
  async fix({ quiet = false } = {}) {
    const { model } = this.app;
    const { picture, anchored, middle, units } = model.state;
    if (!picture || !this.size) return;
    this.putOnShelf();
    this.asked += 1;
    const number = this.asked;
    let told;
    try {
      told = await ask('ground-fix', { points: picture.points, size: this.size, kind: picture.kind, units, middle: anchored ? middle : null });
    } catch (error) { say(error.message); return; }
    if (number !== this.asked || !model.state.picture) return;
    this.told = told;
    const wasFixed = this.isFixed;
    if (told.matrix && String(told.matrix) !== String(picture.matrix)) {
      const moved = anchored || !wasFixed ? {} : this.carried(picture.matrix, told.matrix);
      model.amend({ ...moved, middle: anchored ? middle : told.middle, picture: { ...model.state.picture, matrix: told.matrix } });
      if (quiet) model.base = model.state;
      if (!wasFixed || String(middle) !== String(model.state.middle)) this.app.showWhole();
    }
    this.app.refresh();
  }

  carried(from, to) {
    const { shapes, depths, open } = this.app.model.state;
    const move = (p) => applied(to, undone(from, p));
    return {
      shapes: shapes.map((shape) => ({ ...shape, lines: shape.lines.map((line) => line.map(move)) })),
      depths: depths.map((one) => { const [x, y] = move([one.x, one.y]); return { ...one, x, y }; }),
      open: open && { ...open, points: open.points.map(move) },
    };
  }

  // With the field, if its owner wants that; taken away again where the tick was taken off.
  async settle() {
    const { picture } = this.app.model.state;
    if (this.keep && this.blob && picture) {
      const bytes = new Uint8Array(await this.blob.arrayBuffer());
      await ask('ground-keep', { picture: toBase64(bytes), about: { points: picture.points, kind: picture.kind } });
      return 'The picture is kept with the field.';
    }
    if (DATA.kept && !this.keep) {
      await ask('ground-drop', {});
      return 'The picture is no longer kept with the field.';
    }
    return '';
  }
}
