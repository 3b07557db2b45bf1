// Services on an elevation: outline symbols after IEC 60617 and ISO 4067 (from memory), and the
// letters that stand beside them.
#pragma once

#include <string>

#include "app/drawing/pen.h"
#include "survey/survey.h"

namespace levelrun {

// "CW", "SSO"
std::string service_letters(ServiceKind);

// About its middle; times: 1 is 18 dp wide. What of the sheet it takes. Things with a box of their
// own (boilers, radiators) have no symbol: an empty box, nothing drawn.
Box service_symbol(DrawingPen&, ServiceKind, Spot, Ink, float times);

}  // namespace levelrun
