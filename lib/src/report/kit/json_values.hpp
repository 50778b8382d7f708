#pragma once
#include <leastwise/formulation.hpp>
#include <leastwise/note.hpp>
#include <leastwise/rule_id.hpp>

#include <nlohmann/json.hpp>
#include <optional>

namespace leastwise::report {

// What the JSON reports write alike.

using Json = nlohmann::ordered_json;

/// Of the report format.
inline constexpr int report_version = 1;

/// Rounded to 12 significant digits; null without a value, or where it is not finite.
[[nodiscard]] Json json_number(const std::optional<double>& value);

/// Adds `value` to the object `json` as `name`: null when there is none, absent when it was not
/// computed.
void add_known(Json& json, const char* name, const Known<double>& value);

[[nodiscard]] Json json_note(const Note& note);

/// `file:line:column`; null for no place.
[[nodiscard]] Json json_place(const Place& place);

/// `kind`, `subject`, `object` and `side` of a rule; null for what its kind does not have.
void add_parts(Json& json, const RuleId& id);

/// A rule by its name, `rest` of it, and the parts of its identity.
[[nodiscard]] Json json_rule(const std::string& name, const RuleId& id, const Json& rest);

/// One nutrient: what there is and what is asked.
[[nodiscard]] Json json_supply(const Supply& supply);

/// A report as it is handed out. Text that is not UTF-8 is shown with replacement characters rather
/// than refused.
[[nodiscard]] std::string json_text(const Json& json);

/// The same on one line, without its end.
[[nodiscard]] std::string json_line(const Json& json);

/// Appends what `json_line(json_number(value))` is.
void append_number(std::string& text, const std::optional<double>& value);

/// `items` as an array, each turned by `turn`; never null.
template <typename Items, typename Turn>
[[nodiscard]] Json json_array(const Items& items, Turn turn) {
  Json list = Json::array();
  for (const auto& item : items) list.push_back(turn(item));
  return list;
}

}  // namespace leastwise::report
