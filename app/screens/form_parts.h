// What pages that are a form have in common: the head with its way back, what was refused, and keys
// that do more than one edit.
#pragma once

#include <functional>
#include <string>

#include "app/screens/form.h"

namespace levelrun {

// Title, the key that leaves, and beneath them why the last edit was not taken; all off the page's
// top. short_title: where there is no room for the title; the titles go before the key does. True:
// the page is left.
bool draw_form_head(ScreenContext&, Box& page, const Session&, const FormState&,
                    const std::string& title, const std::string& short_title,
                    const std::string& back);

// A key of the page's own.
FormField form_page_key(std::string words, std::function<void()> deed);

// Words across the form, as many lines as they take.
FormField form_paragraph(std::string words, Ink = Ink::soft);

// A line that is chosen by a tap: its name, what is said of it beside or, where there is no room,
// beneath.
FormField form_row(std::string label, std::string name, std::string words, bool chosen,
                   std::function<void()> deed);

}  // namespace levelrun
