'use strict';
// Runs before anything is shown: the page is the map from its first moment on. Where a script fails before all
// is wired, the picture and the table for readers without scripts take its place.
document.documentElement.classList.add('scripted', 'is-starting');
window.addEventListener('error', () => {
  if (document.documentElement.classList.contains('is-starting')) document.documentElement.classList.remove('scripted');
});
