// Takes the code out of the address (it stands after '#', which is never sent) into the field.
"use strict";

const field = document.getElementById("code");
if (field && location.hash.length > 1) {
  field.value = decodeURIComponent(location.hash.slice(1));
  history.replaceState(null, "", location.pathname);
  document.getElementById("name").focus();
}
