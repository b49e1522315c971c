"""Opens pages in a real headless browser and says what is wrong with them, one line each; nothing when all is well.

    python3 tests/browser.py PAGES_EXPECTED_AT_MOST FILE...    (0: look, do not print)

Speaks WebDriver (W3C) to chromedriver; only Python's own library is needed. Exit 77: no browser here.
"""
import base64, json, os, re, shutil, socket, subprocess, sys, tempfile, time, urllib.request

DRIVER, BROWSER = shutil.which("chromedriver"), shutil.which("chromium") or shutil.which("google-chrome")
if not DRIVER or not BROWSER:
    sys.exit(77)

LOOK = """
const wrong = [];
const wide = document.documentElement;
if (wide.scrollWidth > wide.clientWidth) wrong.push(`wider than the page: ${wide.scrollWidth} in ${wide.clientWidth}`);
const channel = (value) => { value /= 255; return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4; };
const light = (rgb) => 0.2126 * channel(rgb[0]) + 0.7152 * channel(rgb[1]) + 0.0722 * channel(rgb[2]);
const rgb = (text) => (text.match(/[\\d.]+/g) || []).map(Number);
const ground = (node) => { for (; node; node = node.parentElement) { const c = rgb(getComputedStyle(node).backgroundColor); if (c.length === 3 || c[3] > 0) return c; } return [255, 255, 255]; };
let low = 99;
for (const node of document.querySelectorAll('body *')) {
  if (node.closest('svg') || ![...node.childNodes].some((child) => child.nodeType === 3 && child.textContent.trim())) continue;
  const [a, b] = [light(rgb(getComputedStyle(node).color)), light(ground(node))].sort((x, y) => y - x);
  low = Math.min(low, (a + 0.05) / (b + 0.05));
}
if (low < 4.5) wrong.push(`contrast ${low.toFixed(2)}, less than 4.5`);
for (const picture of document.querySelectorAll('svg')) {
  const box = picture.getBoundingClientRect();
  if (box.width < 40 || box.height < 20) wrong.push(`a picture of ${box.width} by ${box.height}`);
  if (!picture.querySelector('title')) wrong.push('a picture without a title');
  for (const word of picture.querySelectorAll('text')) {
    const own = word.getBoundingClientRect();
    if (own.right > box.right + 2 || own.left < box.left - 2 || own.top < box.top - 2 || own.bottom > box.bottom + 2) wrong.push(`'${word.textContent}' leaves its picture`);
  }
}
return wrong;
"""


def call(port, method, path, body=None):
    data = None if body is None else json.dumps(body).encode()
    request = urllib.request.Request(f"http://127.0.0.1:{port}{path}", data, {"Content-Type": "application/json"}, method=method)
    return json.load(urllib.request.urlopen(request, timeout=120))["value"]


def start(port):
    driver = subprocess.Popen([DRIVER, f"--port={port}"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    for _ in range(100):
        try:
            if call(port, "GET", "/status")["ready"]:
                return driver
        except OSError:
            time.sleep(0.1)
    sys.exit("chromedriver does not answer")


def main(most_pages, files):
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    driver, profile = start(port), tempfile.mkdtemp()
    flags = ["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
             "--disable-component-update", "--disable-sync", f"--user-data-dir={profile}"]
    wanted = {"browserName": "chrome", "goog:chromeOptions": {"binary": BROWSER, "args": flags}, "goog:loggingPrefs": {"browser": "ALL"}}
    try:
        session = call(port, "POST", "/session", {"capabilities": {"alwaysMatch": wanted}})["sessionId"]
        here = f"/session/{session}"
        for name in files:
            # 794 pixels are the width of A4, 360 a telephone.
            for width in (360, 794, 1280):
                call(port, "POST", here + "/goog/cdp/execute", {"cmd": "Emulation.setDeviceMetricsOverride",
                     "params": {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": False}})
                call(port, "POST", here + "/url", {"url": "file://" + os.path.abspath(name)})
                for wrong in call(port, "POST", here + "/execute/sync", {"script": LOOK, "args": []}):
                    print(f"{name} at {width}: {wrong}")
            for line in call(port, "POST", here + "/se/log", {"type": "browser"}):
                print(f"{name}: the browser says {line['message']}")
            papers = (("A4", (21.0, 29.7)), ("Letter", (21.59, 27.94))) if most_pages else ()
            for paper, size in papers:
                page = {"page": {"width": size[0], "height": size[1]}, "background": True}
                pdf = base64.b64decode(call(port, "POST", here + "/print", page))
                pages = len(re.findall(rb"/Type\s*/Page\b", pdf))
                if not 1 <= pages <= most_pages:
                    print(f"{name} on {paper}: {pages} pages, at most {most_pages} expected")
        call(port, "DELETE", here)
    finally:
        driver.kill()
        driver.wait()
        shutil.rmtree(profile, ignore_errors=True)


main(int(sys.argv[1]), sys.argv[2:])
