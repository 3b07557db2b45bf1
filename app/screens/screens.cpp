#include "app/screens/screens.h"

namespace levelrun {

bool Screens::back(Page page) {
  PhotoEntry* const photos = page == Page::job     ? &job.photos
                             : page == Page::walls ? &walls.photos
                                                   : nullptr;
  if (photos && !photos->open.empty()) {
    *photos = {};
    return true;
  }
  const auto close = [](ReadingEntry& entry) {
    const bool open = entry.asking_why;
    entry.asking_why = false;
    return open;
  };
  switch (page) {
    case Page::walk: {
      const bool open = walk.more.open;
      walk.more.open = false;
      walk.more.what = MoreToRead::What::none;
      return close(walk.entry) || open;
    }
    case Page::levels: {
      const bool open = levels.two_peg.open;
      levels.two_peg = {};
      if (levels.points.back()) return true;
      return close(levels.entry) || open;
    }
    case Page::arrival:
      return close(arrival.floor) || close(arrival.level);
    case Page::legs: {
      const bool open = legs.check.open;
      if (close(legs.check.entry)) return true;
      legs.check.open = false;
      return open;
    }
    case Page::hand_over: {
      const bool open = hand_over.asking_why;
      hand_over.asking_why = false;
      return open;
    }
    case Page::walls: {
      const bool open = walls.reading || walls.putting.open || walls.about || walls.places.open;
      walls.reading = walls.about = false;
      walls.places.open = false;
      walls.putting = {};
      return close(walls.entry) || open;
    }
    case Page::runs: {
      const bool open = runs.about;
      runs.about = false;
      runs.form = {};
      return open;
    }
    case Page::job: {
      if (job.adding_room || job.outline.open) {
        job.adding_room = job.adding_room && job.outline.open;  // the walk first
        job.outline = {};
        return true;
      }
      const bool open = !job.form.editing.empty();
      job.form.editing.clear();
      return open;
    }
    case Page::release: {
      if (compare.open) {
        const bool stays = compare.choosing && compare.other;
        compare.open = stays;
        compare.choosing = false;
        return true;
      }
      const bool open = release.answering;
      release.answering = false;
      return open;
    }
    case Page::jobs: {
      if (jobs.outline.open) {
        jobs.outline = {};
        return true;
      }
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
  job.photos = {};
  runs = {};
  findings = {};
  arrival = {};
  setting_out = {};
  legs = {};
  plinths = {};
}

void Screens::page_left() {
  drop_stray(walk.entry);
  drop_stray(levels.entry);
  drop_stray(walls.entry);
}

}  // namespace levelrun
