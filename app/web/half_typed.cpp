#include "app/web/half_typed.h"

#include "app/screens/screens.h"

namespace levelrun {
namespace {

constexpr std::size_t longest_line = 2000;  // bytes

// Of the page's pad; null: it has none that is open.
ReadingEntry* entry_on(Screens& s, Page page) {
  switch (page) {
    case Page::walk:
      return &s.walk.entry;
    case Page::levels:
      return s.levels.two_peg.open ? nullptr : &s.levels.entry;
    case Page::walls:
      return s.walls.putting.open ? nullptr : &s.walls.entry;
    case Page::arrival:
      return s.arrival.part == 0 ? &s.arrival.floor : &s.arrival.level;
    case Page::legs:
      return s.legs.check.open ? &s.legs.check.entry : nullptr;
    default:
      return nullptr;
  }
}

std::string text_in(const Json& json, const char* name) {
  const auto found = json.find(name);
  return found != json.end() && found->is_string() ? found->get<std::string>() : std::string();
}

std::size_t number_in(const Json& json, const char* name) {
  const auto found = json.find(name);
  return found != json.end() && found->is_number_unsigned() ? found->get<std::size_t>() : 0;
}

}  // namespace

std::string half_typed(App& app) {
  const Session* session = app.session();
  if (!session) return {};
  Screens& s = app.screens();
  Json line = {{"job", session->path()}, {"room", session->room}, {"page", int(app.page())}};
  if (const ReadingEntry* entry = entry_on(s, app.page())) {
    line["ask"] = entry->ask;
    line["typed"] = entry->typed;
  }
  if (app.page() == Page::levels) line["setup"] = s.levels.setup;
  if (app.page() == Page::walls) {
    line["wall"] = s.walls.wall;
    line["pad"] = s.walls.reading ? 1U : 0U;
  }
  if (app.page() == Page::arrival) line["part"] = unsigned(s.arrival.part);
  if (app.page() == Page::legs) line["pad"] = s.legs.check.open ? 1U : 0U;
  if (app.page() == Page::runs) {
    line["run"] = s.runs.run;
    line["typed"] = s.runs.typed;
  }
  return line.dump(-1, ' ', false, Json::error_handler_t::replace);
}

void back_to_half_typed(App& app, std::string_view text) {
  if (text.empty() || text.size() > longest_line) return;
  const Json line = Json::parse(text, nullptr, false);
  if (!line.is_object() || !app.open(text_in(line, "job"))) return;
  Session& session = *app.session();
  if (const std::size_t room = number_in(line, "room"); room < session.survey().rooms.size())
    session.room = room;
  const std::size_t page = number_in(line, "page");
  if (page < std::size_t(Page::job) || page > std::size_t(last_page)) return;
  app.show(Page(page));
  Screens& s = app.screens();
  const bool has_room = session.room < session.survey().rooms.size();
  if (app.page() == Page::levels) s.levels.setup = number_in(line, "setup");
  if (app.page() == Page::walls && has_room) {
    const std::size_t walls = session.survey().rooms[session.room].walls.size();
    if (const std::size_t wall = number_in(line, "wall"); wall < walls) s.walls.wall = wall;
    s.walls.reading = number_in(line, "pad") == 1;
  }
  if (app.page() == Page::arrival && number_in(line, "part") < 2)
    s.arrival.part = int(number_in(line, "part"));
  if (app.page() == Page::legs) s.legs.check.open = number_in(line, "pad") == 1;
  if (app.page() == Page::runs && has_room) {
    const std::size_t runs = session.survey().rooms[session.room].runs.size();
    if (const std::size_t run = number_in(line, "run"); run < runs) s.runs.run = run;
    s.runs.typed = text_in(line, "typed");
  }
  if (ReadingEntry* entry = entry_on(s, app.page())) {
    entry->ask = text_in(line, "ask");
    entry->typed = text_in(line, "typed");
  }
}

}  // namespace levelrun
