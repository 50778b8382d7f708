#include "base/text/dates.hpp"

#include <array>
#include <cstdio>

namespace leastwise {
namespace {

constexpr std::string_view form_of_a_date = "0000-00-00";

/// The number in `length` digits of `text` from `start` on.
unsigned number_at(std::string_view text, std::size_t start, std::size_t length) {
  unsigned number = 0;
  for (const char c : text.substr(start, length)) {
    number = number * 10 + static_cast<unsigned>(c - '0');
  }
  return number;
}

bool has_the_form(std::string_view text) {
  if (text.size() != form_of_a_date.size()) return false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool digit = text[i] >= '0' && text[i] <= '9';
    if (form_of_a_date[i] == '0' ? !digit : text[i] != form_of_a_date[i]) return false;
  }
  return true;
}

}  // namespace

std::optional<std::chrono::sys_days> day_of(std::string_view text) {
  if (!has_the_form(text)) return std::nullopt;
  const std::chrono::year_month_day date{std::chrono::year(static_cast<int>(number_at(text, 0, 4))),
                                         std::chrono::month(number_at(text, 5, 2)),
                                         std::chrono::day(number_at(text, 8, 2))};
  if (!date.ok()) return std::nullopt;
  return std::chrono::sys_days(date);
}

std::string date_text(std::chrono::sys_days day) {
  const std::chrono::year_month_day date(day);
  std::array<char, 32> text{};
  std::snprintf(text.data(), text.size(), "%04d-%02u-%02u", static_cast<int>(date.year()),
                static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
  return text.data();
}

}  // namespace leastwise
