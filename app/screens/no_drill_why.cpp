#include "app/screens/no_drill_why.h"

#include <utility>

#include "app/screens/form_fields.h"
#include "app/screens/form_parts.h"
#include "app/touch/words_field.h"

namespace levelrun {

const char* const no_drill_caution =
    "Where no zone is drawn is never a licence to drill: check with a detector, and by the local "
    "rules.";

NoDrillWhy draw_no_drill_why(ScreenContext& c, Box page, Session& session, FormState& form,
                             std::string& typed, const std::string& where) {
  constexpr std::pair<const char*, const char*> reasons[] = {
      {"Cable", "cable"}, {"Pipe", "pipe"}, {"Heating", "heating"}, {"Not known", "not known"}};
  NoDrillWhy out;
  out.back = draw_form_head(c, page, session, form, where, "No drilling", "A step back");
  std::vector<FormField> fields;
  fields.push_back(form_heading("Why is there no drilling?"));
  for (const auto& [words, why] : reasons)
    fields.push_back(form_page_key(words, [&out, reason = why] { out.why = reason; }));
  FormField other;
  other.kind = FormField::Kind::drawing;
  other.tall = [](const Sheet& s, float) { return words_field_height(s) + 8; };
  other.draw = [&](Sheet& s, Box b) {
    if (words_field(s, {b.x, b.y, b.w, b.h - 8}, "Something else", "why no drilling", typed) &&
        !typed.empty())
      out.why = typed;
  };
  fields.push_back(other);
  fields.push_back(form_paragraph(no_drill_caution, Ink::ink));
  draw_form(c, page, session, fields, form, "why no drilling");
  return out;
}

}  // namespace levelrun
