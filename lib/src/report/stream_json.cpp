#include "report/stream_json.hpp"

#include <algorithm>
#include <charconv>
#include <cstdint>
#include <set>
#include <string_view>
#include <utility>

#include "report/blend_json.hpp"
#include "report/kit/json_values.hpp"

namespace leastwise {
namespace report {
namespace {

constexpr std::string_view before_line = R"({"leastwise":1,"report":"stream_answer","line":)";
constexpr std::string_view before_question = R"(,"question":")";
constexpr std::size_t digits = 16;

/// Everything up to the status.
std::string head(const AnswerMark& mark, const std::string& id) {
  std::string text(before_line);
  text += std::to_string(mark.line);
  text.append(before_question).append(mark.question).append(R"(","id":)").append(id);
  return text;
}

// A tree of JSON would take a fifth of the time of a question.

void add_number(std::string& line, std::string_view name, const std::optional<double>& value) {
  line.append(",\"").append(name).append("\":");
  append_number(line, value);
}

void add_text(std::string& line, std::string_view name, std::string_view text) {
  line.append(",\"").append(name).append("\":\"").append(text).append("\"");
}

/// `items` between `brackets`, each added by `add`.
template <typename Items, typename Add>
void add_all(std::string& line, std::string_view name, std::string_view brackets,
             const Items& items, Add add) {
  line.append(",\"").append(name).append("\":").append(brackets.substr(0, 1));
  bool first = true;
  for (const auto& item : items) {
    if (!std::exchange(first, false)) line += ',';
    add(item);
  }
  line += brackets.substr(1);
}

void add_blend(std::string& line, const Blend& blend) {
  add_number(line, "cost_per_ha", blend.cost_per_ha);
  add_number(line, "cost_per_t", blend.cost_per_t);
  add_number(line, "total_kg_per_ha", blend.total_kg_per_ha);
  add_all(line, blend.total_kg_per_ha ? "kg_per_ha" : "kg_per_t", "{}", blend.portions,
          [&](const Portion& portion) {
            line.append(json_of_text(portion.material)).append(":");
            append_number(line, portion.kg_per_ha.value_or(portion.kg_per_t));
          });
  std::set<std::string_view> codes;
  for (const Note& note : blend.notes)
    if (note.level != NoteLevel::info) codes.insert(to_string(note.code));
  add_all(line, "cautions", "[]", codes,
          [&](std::string_view code) { line.append("\"").append(code).append("\""); });
}

void add_stop(std::string& line, const Stopped& stopped) {
  add_text(line, "cause", to_string(stopped.cause));
  add_number(line, "best_cost", stopped.best_cost);
  add_number(line, "lower_bound", stopped.lower_bound);
  add_text(line, "cost_basis", stopped.basis == Basis::per_hectare ? "ha" : "t");
}

}  // namespace

std::string json_of_text(const std::string& text) {
  const bool plain = std::ranges::all_of(
      text, [](char c) { return c >= ' ' && c < 0x7F && c != '"' && c != '\\'; });
  if (plain) return '"' + text + '"';
  return Json(text).dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string answer_line(const AnswerMark& mark, const std::string& id, const Formulation& answer,
                        bool full) {
  std::string line = head(mark, id);
  add_text(line, "status", to_string(answer.status()));
  if (const Blend* blend = answer.blend()) add_blend(line, *blend);
  if (const Conflict* conflict = answer.conflict())
    add_all(line, "conflict", "[]", conflict->rules,
            [&](const ConflictingRule& rule) { line += json_of_text(rule.rule); });
  if (const Stopped* stopped = answer.stopped()) add_stop(line, *stopped);
  if (full) line.append(",\"blend\":").append(json_line(json_formulation(answer)));
  return line + "}\n";
}

std::string rejected_line(const AnswerMark& mark, const std::string& id, const InputError& error) {
  const Json diagnostics = json_array(error.diagnostics(), json_diagnostic);
  std::string line = head(mark, id);
  add_text(line, "status", "rejected");
  return line.append(",\"diagnostics\":").append(json_line(diagnostics)) + "}\n";
}

}  // namespace report

std::string question_mark(std::string_view question) {
  // The constants of FNV-1a with 64 bits (Fowler, Noll and Vo; draft-eastlake-fnv, from memory).
  std::uint64_t sum = 0xcbf29ce484222325U;
  for (const char byte : question) sum = (sum ^ static_cast<unsigned char>(byte)) * 0x100000001b3U;
  std::string text(report::digits, '0');
  for (std::size_t i = text.size(); i-- > 0; sum >>= 4U) text[i] = "0123456789abcdef"[sum & 15U];
  return text;
}

std::optional<AnswerMark> answer_mark(std::string_view answer) {
  if (!answer.starts_with(report::before_line) || !answer.ends_with('}')) return std::nullopt;
  answer.remove_prefix(report::before_line.size());
  AnswerMark mark;
  const auto [end, error] =
      std::from_chars(answer.data(), answer.data() + answer.size(), mark.line);
  if (error != std::errc() || mark.line < 1) return std::nullopt;
  answer.remove_prefix(static_cast<std::size_t>(end - answer.data()));
  if (!answer.starts_with(report::before_question)) return std::nullopt;
  mark.question = answer.substr(report::before_question.size(), report::digits);
  if (mark.question.size() < report::digits ||
      mark.question.find_first_not_of("0123456789abcdef") != std::string::npos)
    return std::nullopt;
  return mark;
}

}  // namespace leastwise
