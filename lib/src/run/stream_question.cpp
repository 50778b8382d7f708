#include "run/stream_question.hpp"

#include <algorithm>
#include <array>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "input/json_document.hpp"
#include "input/text_file.hpp"
#include "input/yaml/inline_scenario.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/scenario_keys.hpp"
#include "report/stream_json.hpp"
#include "scenario/builder.hpp"

namespace leastwise::run_door {
namespace {

constexpr std::string_view question_example = R"({"id": 7, "price": {"urea": 520}})";

using Amounts = std::vector<std::pair<std::string, double>>;

template <Amounts StreamChange::*Field>
void take_amounts(NodeReader& reader, const Node& node, const std::string& path,
                  StreamChange& change) {
  reader.names(node, path,
               Field == &StreamChange::prices ? "{\"urea\": 520}" : "{\"rate N min\": 60}",
               [&](const Node& key, const Node& value, const std::string& place) {
                 reader.remember(place, value.spot);
                 if (const auto number = reader.number(value, place))
                   (change.*Field).emplace_back(key.text, *number);
               });
}

constexpr std::array<Key<StreamChange>, 6> question_keys{{
    {"id",
     [](NodeReader& reader, const Node& value, const std::string& path, StreamChange&) {
       static_cast<void>(reader.text(value, path));  // `QuestionText::id` has it
     }},
    {"base", [](NodeReader& reader, const Node& value, const std::string& path,
                StreamChange& change) { change.base = reader.text(value, path); }},
    {"change", [](NodeReader& reader, const Node& value, const std::string& path,
                  StreamChange& change) { change.change = read_variant(reader, value, path, {}); }},
    {"price", take_amounts<&StreamChange::prices>},
    {"limit", take_amounts<&StreamChange::limits>},
    {"without",
     [](NodeReader& reader, const Node& value, const std::string& path, StreamChange& change) {
       change.without = reader.material_names(value, path).value_or(std::vector<std::string>{});
     }},
}};

std::string no_better_place(std::string_view) { return {}; }

}  // namespace

QuestionText::QuestionText(std::string_view text, const StreamOptions& options)
    : name_(options.name) {
  Reading reading;
  NodeReader reader(name_, sources_, places_, reading);
  const auto reject = [&](std::string_view code, std::string message, const SourceSpan& spot) {
    reader.report({code, std::move(message), spot});
    throw InputError(std::move(reading.diagnostics));
  };
  if (text.size() > most_question_bytes)
    reject(codes::file_too_large, "a question must be at most 1 MiB long", {1, 1, 1});
  TextFile file = split_text(text);
  if (!file.good()) reject(file.code, "the question " + file.problem, {file.line, file.column, 1});
  sources_.emplace(name_, file.lines);
  const auto start = file.text.find_first_not_of(" \t");
  if (start == std::string::npos || file.text[start] != '{')
    reject(codes::wrong_type,
           "expected a question such as " + std::string(question_example) + ", found " +
               (start == std::string::npos ? "an empty line" : in_quotes(file.text)),
           {1, 1, 1});
  Document document = parse_json_document(file.text, options.stop);
  for (const auto& problem : document.problems) reader.report(problem);
  if (!reading.diagnostics.empty()) throw InputError(std::move(reading.diagnostics));
  root_ = std::move(document.root);
}

const Node* QuestionText::value_of(std::string_view key) const {
  const auto found = std::ranges::find_if(
      root_.entries, [&](const NodeEntry& entry) { return entry.key.text == key; });
  return found == root_.entries.end() ? nullptr : &found->value;
}

std::string QuestionText::id() const {
  const Node* value = value_of("id");
  if (value == nullptr || value->kind != Node::Kind::scalar) return "null";
  return value->plain ? value->text : report::json_of_text(value->text);
}

bool QuestionText::is_scenario() const { return value_of("leastwise") != nullptr; }

Scenario QuestionText::scenario(const StreamOptions& options) {
  std::erase_if(root_.entries, [](const NodeEntry& entry) { return entry.key.text == "id"; });
  ReadScenario read =
      read_inline_scenario(name_, sources_.find(name_)->second, std::move(root_), options.folder,
                           {.allow_outside = options.allow_outside, .stop = options.stop});
  return ScenarioBuilder(std::move(read.draft), std::move(read.reading), options.stop).build();
}

StreamChange QuestionText::change() {
  Reading reading;
  NodeReader reader(name_, sources_, places_, reading);
  StreamChange change;
  read_keys<StreamChange>(reader, root_, {}, question_example, question_keys, no_better_place,
                          change);
  if (!reading.diagnostics.empty()) throw InputError(std::move(reading.diagnostics));
  return change;
}

void QuestionText::refuse(const std::string& path, std::string_view code,
                          const std::string& message) const {
  Diagnostic diagnostic;
  diagnostic.code = code;
  diagnostic.message = message;
  diagnostic.path = path;
  diagnostic.place = {name_, 1, 1, 1};
  if (const auto place = places_.find(path); place != places_.end()) {
    diagnostic.place = place->second;
    diagnostic.line_text = line_at(sources_.find(name_)->second, place->second);
  }
  throw InputError({std::move(diagnostic)});
}

}  // namespace leastwise::run_door
