(() => {
  "use strict";
  const mine = document.currentScript.dataset.build;
  const address = document.currentScript.dataset.events;
  const key = "jobbook-place";

  // Back to the place where the page was before it loaded itself again.
  try {
    const kept = JSON.parse(sessionStorage.getItem(key));
    sessionStorage.removeItem(key);
    if (kept && kept.page === location.pathname) {
      history.scrollRestoration = "manual";
      const back = () => scrollTo({ left: kept.x, top: kept.y, behavior: "instant" });
      back();
      addEventListener("load", () => { back(); history.scrollRestoration = "auto"; }, { once: true });
    }
  } catch { /* no storage: the browser's own memory of the place has to do */ }

  const reload = () => {
    try {
      sessionStorage.setItem(key, JSON.stringify({ page: location.pathname, x: scrollX, y: scrollY }));
    } catch { /* as above */ }
    location.reload();
  };

  // The banner brings its own look: nothing of the book's is used, and it reads in light and dark alike.
  const style = document.createElement("style");
  style.textContent = `
    #jobbook-preview, #jobbook-preview * { all: revert; box-sizing: border-box; }
    #jobbook-preview { position: sticky; top: 0; z-index: 2147483647; max-height: 50vh; overflow: auto; margin: 0;
      padding: 12px 16px; background: #6b1410; color: #fff; border: 2px solid #fff; outline-offset: -4px;
      font: 16px/1.4 system-ui, sans-serif; text-align: left; color-scheme: dark; }
    #jobbook-preview[hidden] { display: none; }
    #jobbook-preview strong { display: block; font-weight: bold; }
    #jobbook-preview pre { margin: 8px 0 0; font: 14px/1.4 ui-monospace, monospace; white-space: pre-wrap;
      overflow-wrap: anywhere; color: #fff; background: none; }
    @media print { #jobbook-preview { display: none; } }`;
  document.head.append(style);
  const banner = document.createElement("div");
  banner.id = "jobbook-preview";
  banner.setAttribute("role", "alert");
  banner.tabIndex = 0; // so that a long text can be scrolled from the keyboard
  banner.hidden = true;
  document.body.prepend(banner);

  let shown = "";
  const show = (text) => {
    if (text === shown) return;
    shown = text;
    banner.hidden = text === "";
    banner.replaceChildren();
    if (text === "") return;
    const title = document.createElement("strong");
    title.textContent = "The last save could not be built. This is the book from before it.";
    const body = document.createElement("pre");
    body.textContent = text;
    banner.append(title, body);
  };

  // A browser keeps six connections to one address; a page that nobody sees gives its own back.
  let source = null;
  const listen = () => {
    if (source && source.readyState !== EventSource.CLOSED) return;
    source = new EventSource(address);
    source.addEventListener("state", (event) => {
      const now = JSON.parse(event.data);
      if (now.build !== mine) {
        source.close();
        reload();
        return;
      }
      show(now.problems);
    });
  };
  const stop = () => {
    if (source) source.close();
    source = null;
  };
  const follow = () => (document.visibilityState === "hidden" ? stop() : listen());
  document.addEventListener("visibilitychange", follow);
  addEventListener("pagehide", stop);
  addEventListener("pageshow", follow);
  follow();
})();
