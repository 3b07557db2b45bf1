#include "app/entry/sum_terms.h"

#include <algorithm>

namespace levelrun {
namespace {

bool is_sign(std::string_view word) {
  return word == "+" || word == "−" || word == "=" || word == "×" || word == "/";
}

bool is_number(std::string_view word) {
  const bool opens = word.starts_with('('), closes = word.ends_with(')');
  if (opens != closes) return false;
  if (opens) word = word.substr(1, word.size() - 2);
  if (word.starts_with("−")) word.remove_prefix(std::string_view("−").size());
  return !word.empty() && word[0] >= '0' && word[0] <= '9' &&
         word.find_first_not_of("0123456789.,") == word.npos;
}

}  // namespace

std::vector<SumTerm> sum_terms(std::string_view sum, const std::vector<std::string>& captions) {
  if (const std::size_t colon = sum.rfind(": "); colon != sum.npos) sum.remove_prefix(colon + 2);
  std::vector<SumTerm> terms;
  std::string sign;
  bool wants_number = true;
  while (!sum.empty()) {
    const std::size_t space = std::min(sum.find(' '), sum.size());
    const std::string word(sum.substr(0, space));
    sum.remove_prefix(std::min(space + 1, sum.size()));
    if (is_sign(word)) {
      if (wants_number) return {};
      sign = word;
      wants_number = true;
    } else if (wants_number) {
      if (!is_number(word)) return {};
      terms.push_back({sign, word, ""});
      wants_number = false;
    } else {
      std::string& caption = terms.back().caption;
      caption += (caption.empty() ? "" : " ") + word;
    }
  }
  if (wants_number || terms.size() < 2 || terms.back().sign != "=") return {};
  // The last caption is the result's, however many terms there are between.
  for (std::size_t i = 0; i < terms.size() && !captions.empty(); ++i) {
    const bool last = i + 1 == terms.size();
    if (!terms[i].caption.empty()) continue;
    if (last)
      terms[i].caption = captions.back();
    else if (i + 1 < captions.size())
      terms[i].caption = captions[i];
  }
  return terms;
}

}  // namespace levelrun
