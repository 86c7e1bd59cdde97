// Runs before the page is painted, so that a night's choice never flashes white.
try {
  document.documentElement.dataset.light = localStorage.getItem("light") ?? "";
} catch {
  // No storage: the page follows the device.
}
