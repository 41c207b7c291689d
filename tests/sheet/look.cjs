// Opens the sheet as a person at a screen does and says what went wrong, as JSON:
//   node look.cjs SHEET.html
const puppeteer = require('puppeteer-core');
const axe = require('axe-core');

const LOOKS = [
  { name: 'desk', width: 1280, height: 900, scheme: 'light' },
  { name: 'dark', width: 1280, height: 900, scheme: 'dark' },
  { name: 'phone', width: 360, height: 740, scheme: 'light' },
  // A desk at 200 %: half the width in CSS pixels.
  { name: 'zoomed', width: 640, height: 450, scheme: 'light' },
];

async function main() {
  const browser = await puppeteer.launch({
    executablePath: '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage'],
  });
  const said = { rules: 0, messages: [], requests: [], violations: [], wide: [], darkPaper: null, focus: null };
  for (const look of LOOKS) {
    const page = await browser.newPage();
    page.on('console', (message) => said.messages.push(message.text()));
    page.on('pageerror', (error) => said.messages.push(String(error)));
    page.on('request', (request) => said.requests.push(request.url()));
    await page.setViewport({ width: look.width, height: look.height });
    await page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: look.scheme }]);
    await page.goto('file://' + process.argv[2]);
    await page.evaluate(axe.source);
    const result = await page.evaluate(() => window.axe.run(document, { resultTypes: ['violations', 'passes'] }));
    said.rules += result.passes.length;
    for (const found of result.violations) {
      said.violations.push(`${look.name}: ${found.id}: ${found.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)).join(' | ')}`);
    }
    const wide = await page.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth);
    if (wide) said.wide.push(look.name);
    if (look.scheme === 'dark') {
      await page.emulateMediaType('print');
      said.darkPaper = await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
    }
    if (look.name === 'desk') {
      await page.keyboard.press('Tab');
      said.focus = await page.evaluate(() => document.activeElement.textContent);
    }
    await page.close();
  }
  await browser.close();
  process.stdout.write(JSON.stringify(said));
}

main().catch((error) => {
  process.stderr.write(String(error));
  process.exit(1);
});
