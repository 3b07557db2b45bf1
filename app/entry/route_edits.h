// What a person does to the way a service takes, as RFC 6902 patches. Indices are the survey's.
#pragma once

#include "app/drawing/room_to_draw.h"
#include "survey/survey_file.h"

namespace levelrun {

// A further point of the route, or where it connects: begun where the route is last known to be, at
// the service itself if it has no point yet.
Json add_route_point_patch(const Json& document, Index room, Index service);
Json connect_service_patch(const Json& document, Index room, Index service);

// The same place said the other way: along the nearest wall instead of by x and y, or by x and y
// instead of along its wall, to the millimetre. Null while the room's plan is not known.
Json place_said_otherwise(const Room&, const RoomToDraw&, const Place&);

}  // namespace levelrun
