/* input[data-time-zone]: filled in with the zone this device keeps, where nothing has been typed yet. */
for (const input of document.querySelectorAll("input[data-time-zone]")) {
  if (!input.value) input.value = Intl.DateTimeFormat().resolvedOptions().timeZone || "";
}
