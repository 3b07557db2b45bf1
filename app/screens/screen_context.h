// What every screen is given to work with, one frame long.
#pragma once

#include "app/jobs/settings.h"
#include "app/touch/sheet.h"
#include "app/windows/platform.h"
#include "survey/file_layer.h"

namespace levelrun {

class App;

struct ScreenContext {
  Sheet& sheet;
  App& app;
  Platform& platform;
  FileLayer& files;
  Settings& settings;
};

}  // namespace levelrun
