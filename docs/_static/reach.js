// What the theme leaves out for keyboards and screen readers.
document.addEventListener("DOMContentLoaded", () => {
  for (const title of document.querySelectorAll(".caption[role=heading]")) title.setAttribute("aria-level", "2");
  for (const block of document.querySelectorAll("pre")) {
    if (block.scrollWidth > block.clientWidth) block.tabIndex = 0;
  }
  const names = { "sidebar-drawer": "pages", "toc-drawer": "on this page" };
  for (const [part, name] of Object.entries(names)) {
    for (const aside of document.querySelectorAll(`aside.${part}`)) aside.setAttribute("aria-label", name);
  }
});
