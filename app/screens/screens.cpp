#include "app/screens/screens.h"

namespace levelrun {

bool Screens::back(Page page) {
  const auto close = [](ReadingEntry& entry) {
    const bool open = entry.asking_why;
    entry.asking_why = false;
    return open;
  };
  switch (page) {
    case Page::walk:
      return close(walk.entry);
    case Page::levels: {
      const bool open = levels.two_peg.open;
      levels.two_peg = {};
      return close(levels.entry) || open;
    }
    case Page::arrival:
      return close(arrival.floor) || close(arrival.level);
    case Page::walls: {
      const bool open = walls.reading || walls.putting.open;
      walls.reading = false;
      walls.putting = {};
      return close(walls.entry) || open;
    }
    case Page::job: {
      const bool open = !job.form.editing.empty();
      job.form.editing.clear();
      return open;
    }
    case Page::release: {
      const bool open = release.answering;
      release.answering = false;
      return open;
    }
    case Page::jobs: {
      const bool open = jobs.choosing;
      jobs.choosing = false;
      return open;
    }
    default:
      return false;
  }
}

void Screens::room_changed() {
  walk = {};
  levels = {};
  walls = {};
  runs = {};
  findings = {};
  arrival = {};
  legs = {};
  plinths = {};
}

}  // namespace levelrun
