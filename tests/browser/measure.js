// What a hand in a glove and an eye in the sun meet on the page as it is shown: every target, every text, how far apart, how plain.
() => {
  const shown = (element) => {
    const style = getComputedStyle(element);
    const box = element.getBoundingClientRect();
    return element.checkVisibility({ opacityProperty: true, visibilityProperty: true, contentVisibilityAuto: true })
      && box.width > 1 && box.height > 1 && box.right > 0 && box.bottom > 0 && style.clipPath === 'none';
  };
  const name = (element) => {
    const said = (element.getAttribute('aria-label') || element.textContent || element.name || '').trim().replace(/\s+/g, ' ');
    return `${element.tagName.toLowerCase()}${element.id ? '#' + element.id : ''}.${element.getAttribute('class') || ''} "${said.slice(0, 40)}"`;
  };
  const wanted = 'a[href], button, input:not([type=hidden]), select, textarea, summary, [role=button], [role=radio], [tabindex]:not([tabindex="-1"])';
  const touched = (element) => (['radio', 'checkbox', 'file'].includes(element.type) && element.closest('label')) || element;
  const targets = [...new Set([...document.querySelectorAll(wanted)].filter((e) => !e.disabled).map(touched))].filter(shown);
  // What stays in its place while the page moves under it is another layer: only what lies in one layer has a gap.
  const layer = (element) => {
    for (let at = element; at; at = at.parentElement) if (['fixed', 'sticky'].includes(getComputedStyle(at).position)) return at;
    return document.body;
  };
  const boxes = targets.map((element) => {
    const box = element.getBoundingClientRect();
    const said = (element.parentElement.textContent || '').trim().length - (element.textContent || '').trim().length;
    const inline = element.tagName === 'A' && getComputedStyle(element).display === 'inline' && said > 2;
    return { element, inline, layer: layer(element), name: name(element), left: box.left, top: box.top, right: box.right, bottom: box.bottom, least: Math.min(box.width, box.height) };
  });
  const near = [];
  boxes.forEach((a, i) => boxes.slice(i + 1).forEach((b) => {
    if (a.element.contains(b.element) || b.element.contains(a.element) || a.layer !== b.layer) return;
    const gap = Math.max(a.left - b.right, b.left - a.right, a.top - b.bottom, b.top - a.bottom);
    near.push({ gap, names: `${a.name} | ${b.name}` });
  }));

  const known = new Map(); // a page has few colours and many texts
  const dot = document.createElement('canvas').getContext('2d', { willReadFrequently: true });
  const colour = (text) => {
    if (!known.has(text)) {
      dot.clearRect(0, 0, 1, 1);
      dot.fillStyle = '#000'; // stays where the text is no colour (none)
      dot.fillStyle = text;
      dot.fillRect(0, 0, 1, 1);
      known.set(text, [...dot.getImageData(0, 0, 1, 1).data].map((part) => part / 255));
    }
    return known.get(text);
  };
  const over = (front, back) => front.slice(0, 3).map((part, k) => part * front[3] + back[k] * (1 - front[3]));
  const behind = (element) => {
    const layers = [];
    for (let at = element; at; at = at.parentElement) layers.push(colour(getComputedStyle(at).backgroundColor));
    return layers.reverse().reduce((back, front) => over(front, back), [1, 1, 1]);
  };
  // Relative luminance and contrast ratio as WCAG 2.2 defines them.
  const luminance = (rgb) => rgb.map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4))
    .reduce((sum, c, k) => sum + c * [0.2126, 0.7152, 0.0722][k], 0);
  const ratio = (a, b) => {
    const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x);
    return (light + 0.05) / (dark + 0.05);
  };
  const texts = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const element = walker.currentNode.parentElement;
    if (!walker.currentNode.data.trim() || !element || !shown(element) || element.closest('script, style, title, desc, noscript, option')) continue;
    const style = getComputedStyle(element);
    const drawn = element.closest('svg') && element.getScreenCTM ? element.getScreenCTM() : null;
    const size = parseFloat(style.fontSize) * (drawn ? Math.hypot(drawn.a, drawn.b) : 1);
    const back = behind(element);
    const front = over(colour(element.closest('svg') ? style.fill : style.color), back);
    texts.push({ name: name(element), size, contrast: ratio(front, back) });
  }
  document.querySelectorAll('input:not([type=hidden]):not([type=radio]):not([type=checkbox]), select, textarea').forEach((element) => {
    if (!shown(element)) return;
    const style = getComputedStyle(element);
    const back = behind(element);
    texts.push({ name: name(element), size: parseFloat(style.fontSize), contrast: ratio(over(colour(style.color), back), back) });
  });
  return {
    targets: boxes.map(({ name, least, inline }) => ({ name, least, inline })),
    near: near.filter(({ gap }) => gap < 40),
    texts,
    wide: document.documentElement.scrollWidth,
    room: document.documentElement.clientWidth,
  };
}
