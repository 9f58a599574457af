// Being built.
"use strict";
void 0;
