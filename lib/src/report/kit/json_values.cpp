#include "report/kit/json_values.hpp"

#include <fmt/format.h>

#include <cstddef>
#include <iterator>
#include <string>
#include <utility>

#include "report/kit/numbers.hpp"

namespace leastwise::report {
namespace {

Json json_limits(const Limits& limits) {
  return {{"min", json_number(limits.min)}, {"max", json_number(limits.max)}};
}

void append_float(std::string& text, double number) {
  const std::size_t start = text.size();
  fmt::format_to(std::back_inserter(text), "{}", number);
  if (text.find_first_of(".e", start) == std::string::npos) text += ".0";
}

/// Writes a tree as JSON, indented or on one line, each number in the fewest digits that read back
/// as itself.
class JsonWriter {
 public:
  explicit JsonWriter(bool on_one_line) : on_one_line_(on_one_line) {}

  [[nodiscard]] std::string written(const Json& json) {
    write(json, 0);
    return std::move(text_);
  }

 private:
  void write(const Json& json, std::size_t depth) {
    if (json.is_object()) {
      write_all(json, depth, '{', '}');
    } else if (json.is_array()) {
      write_all(json, depth, '[', ']');
    } else if (json.is_number_float()) {
      append_float(text_, json.get<double>());
    } else {
      text_ += json.dump(-1, ' ', false, Json::error_handler_t::replace);
    }
  }

  void write_all(const Json& json, std::size_t depth, char open, char close) {
    text_ += open;
    const char* separator = "";
    for (const auto& item : json.items()) {
      text_ += separator;
      separator = ",";
      next_line(depth + 1);
      if (json.is_object())
        text_ += Json(item.key()).dump(-1, ' ', false, Json::error_handler_t::replace) +
                 (on_one_line_ ? ":" : ": ");
      write(item.value(), depth + 1);
    }
    if (!json.empty()) next_line(depth);
    text_ += close;
  }

  void next_line(std::size_t depth) {
    if (!on_one_line_) text_.append(1, '\n').append(2 * depth, ' ');
  }

  bool on_one_line_;
  std::string text_{};
};

}  // namespace

void append_number(std::string& text, const std::optional<double>& value) {
  const auto figure = value ? rounded(*value) : std::nullopt;
  if (figure)
    append_float(text, *figure);
  else
    text += "null";
}

Json json_number(const std::optional<double>& value) {
  if (!value) return nullptr;
  const auto figure = rounded(*value);
  return figure ? Json(*figure) : Json(nullptr);
}

void add_known(Json& json, const char* name, const Known<double>& value) {
  if (value.is_computed()) json[name] = value ? json_number(*value) : Json(nullptr);
}

Json json_place(const Place& place) {
  if (!place) return nullptr;
  return place.source + ":" + std::to_string(place.line) + ":" + std::to_string(place.column);
}

Json json_note(const Note& note) {
  Json json{{"level", to_string(note.level)},
            {"code", to_string(note.code)},
            {"subjects", note.subjects},
            {"text", note.text}};
  if (!note.source.empty()) json["source"] = note.source;
  return json;
}

void add_parts(Json& json, const RuleId& id) {
  const auto part = [](std::string_view text) { return text.empty() ? Json(nullptr) : Json(text); };
  json["kind"] = to_string(id.kind);
  json["subject"] = part(id.subject);
  json["object"] = part(id.object);
  json["side"] = id.side == RuleSide::none ? Json(nullptr) : Json(to_string(id.side));
}

Json json_rule(const std::string& name, const RuleId& id, const Json& rest) {
  Json json{{"rule", name}};
  json.update(rest);
  add_parts(json, id);
  return json;
}

Json json_supply(const Supply& s) {
  return {{"nutrient", s.nutrient},
          {"kg_per_ha", json_number(s.kg_per_ha)},
          {"effective_kg_per_ha", json_number(s.effective_kg_per_ha)},
          {"percent", json_number(s.percent)},
          {"required_kg_per_ha", json_limits(s.rate_kg_per_ha)},
          {"required_percent", json_limits(s.grade_percent)},
          {"declared_percent", json_number(s.declared_percent)}};
}

std::string json_text(const Json& json) { return JsonWriter(false).written(json) + '\n'; }

std::string json_line(const Json& json) { return JsonWriter(true).written(json); }

}  // namespace leastwise::report
