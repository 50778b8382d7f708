#include "input/yaml/node_reader.hpp"

#include <algorithm>
#include <array>
#include <unordered_map>
#include <utility>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "input/yaml/number.hpp"

namespace leastwise {

std::string path_below(std::string_view path, std::string_view key) {
  return path.empty() ? std::string(key) : below(path, key);
}

std::string key_of(std::string_view path) {
  const auto dot = path.rfind('.');
  if (dot == std::string_view::npos) return std::string(path);
  const std::string_view key = path.substr(dot + 1);
  const auto position = read_whole_number(key);
  if (!position) return std::string(key);
  return "item " + std::to_string(*position + 1) + " of " + key_of(path.substr(0, dot));
}

std::string found_text(const Node& node) {
  switch (node.kind) {
    case Node::Kind::scalar:
      return in_quotes(node.text);
    case Node::Kind::sequence:
      return "a list";
    case Node::Kind::mapping:
      return "keys with values";
    case Node::Kind::nothing:
    case Node::Kind::rejected:
      break;
  }
  return "nothing";
}

NodeReader::NodeReader(std::string name, const Sources& sources, Places& places, Reading& reading)
    : name_(std::move(name)), sources_(&sources), places_(&places), reading_(&reading) {}

Place NodeReader::place_at(const SourceSpan& spot) const {
  return {name_, spot.line, spot.column, spot.width};
}

void NodeReader::remember(const std::string& path, const SourceSpan& spot) {
  places_->insert_or_assign(path, place_at(spot));
}

void NodeReader::add(Severity severity, std::string_view code, const std::string& path,
                     const Place& place, std::string message) {
  Diagnostic diagnostic;
  diagnostic.severity = severity;
  diagnostic.code = std::string(code);
  const bool own_words = units_ == Units::metric || code == codes::us_unit;
  diagnostic.message = own_words ? std::move(message) : with_us_keys(message);
  diagnostic.path = path;
  diagnostic.place = place;
  const auto lines = sources_->find(place.source);
  if (lines != sources_->end()) diagnostic.line_text = line_at(lines->second, place);
  reading_->diagnostics.push_back(std::move(diagnostic));
}

void NodeReader::error(std::string_view code, const std::string& path, const SourceSpan& spot,
                       std::string message) {
  add(Severity::error, code, path, place_at(spot), std::move(message));
  mark_unreadable(path);
}

void NodeReader::report(const DocumentProblem& problem) {
  add(Severity::error, problem.code, {}, place_at(problem.spot), problem.message);
}

void NodeReader::also(const Place& place, std::string message) {
  add(Severity::note, {}, {}, place, std::move(message));
}

bool NodeReader::reject_unless(Node::Kind kind, const Node& node, const std::string& path,
                               const std::string& expected) {
  if (node.kind == kind) return true;
  if (node.kind == Node::Kind::rejected) {
    mark_unreadable(path);
  } else {
    error(codes::wrong_type, path, node.spot, expected + ", found " + found_text(node));
  }
  return false;
}

std::optional<std::string> NodeReader::text(const Node& node, const std::string& path) {
  if (!reject_unless(Node::Kind::scalar, node, path, "expected text for " + key_of(path))) {
    return std::nullopt;
  }
  return node.text;
}

std::optional<double> NodeReader::number(const Node& node, const std::string& path) {
  const std::string expected = "expected a number for " + key_of(path);
  if (!reject_unless(Node::Kind::scalar, node, path, expected)) return std::nullopt;
  const NumberText read = read_number(node.text);
  if (read.value && node.plain)
    return measure_ ? to_metric(*read.value, *measure_, units_) : *read.value;
  const std::string advice = read.value            ? "; take the quotes off"
                             : read.advice.empty() ? std::string()
                                                   : "; " + read.advice;
  error(codes::bad_number, path, node.spot, expected + ", found " + in_quotes(node.text) + advice);
  return std::nullopt;
}

std::optional<int> NodeReader::whole_number(const Node& node, const std::string& path,
                                            std::string_view range) {
  const std::string expected =
      "expected a whole number" + std::string(range) + " for " + key_of(path);
  if (!reject_unless(Node::Kind::scalar, node, path, expected)) return std::nullopt;
  const auto read = node.plain ? read_whole_number(node.text) : std::nullopt;
  if (!read) {
    error(codes::bad_number, path, node.spot, expected + ", found " + in_quotes(node.text));
  }
  return read;
}

std::optional<bool> NodeReader::boolean(const Node& node, const std::string& path) {
  const std::string expected = "expected true or false for " + key_of(path);
  if (!reject_unless(Node::Kind::scalar, node, path, expected)) return std::nullopt;
  if (node.plain && node.text == "true") return true;
  if (node.plain && node.text == "false") return false;
  constexpr std::array<std::string_view, 7> yes{"yes", "Yes", "YES", "on", "On", "True", "TRUE"};
  constexpr std::array<std::string_view, 7> no{"no", "No", "NO", "off", "Off", "False", "FALSE"};
  std::string advice;
  if (std::find(yes.begin(), yes.end(), node.text) != yes.end()) advice = "; write true";
  if (std::find(no.begin(), no.end(), node.text) != no.end()) advice = "; write false";
  error(codes::bad_choice, path, node.spot, expected + ", found " + in_quotes(node.text) + advice);
  return std::nullopt;
}

std::optional<std::size_t> NodeReader::choice(const Node& node, const std::string& path,
                                              std::span<const std::string_view> choices) {
  std::string expected = "expected ";
  for (std::size_t i = 0; i < choices.size(); ++i) {
    if (i > 0) expected += i + 1 == choices.size() ? " or " : ", ";
    expected += choices[i];
  }
  expected += " for " + key_of(path);
  if (!reject_unless(Node::Kind::scalar, node, path, expected)) return std::nullopt;
  Suggestion suggestion(node.text);
  for (std::size_t i = 0; i < choices.size(); ++i) {
    if (node.text == choices[i]) return i;
    suggestion.offer(choices[i]);
  }
  error(codes::bad_choice, path, node.spot,
        expected + ", found " + in_quotes(node.text) + suggestion.question());
  return std::nullopt;
}

const std::vector<Node>* NodeReader::list(const Node& node, const std::string& path,
                                          std::string_view example) {
  const std::string expected =
      "expected a list for " + key_of(path) + ", such as " + std::string(example);
  if (!reject_unless(Node::Kind::sequence, node, path, expected)) return nullptr;
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    remember(below(path, std::to_string(i)), node.items[i].spot);
  }
  return &node.items;
}

bool NodeReader::is_mapping(const Node& node, const std::string& path, std::string_view example) {
  const std::string of = path.empty() ? std::string() : " for " + key_of(path);
  return reject_unless(Node::Kind::mapping, node, path,
                       "expected keys with values" + of + ", such as " + std::string(example));
}

bool NodeReader::is_key(const Node& key, const std::string& path) {
  if (key.kind == Node::Kind::rejected) {
    mark_unreadable(path);
    return false;
  }
  if (key.kind != Node::Kind::scalar) {
    error(codes::wrong_type, path_below(path, "?"), key.spot,
          "expected a word as a key, found " + found_text(key));
    return false;
  }
  if (key.plain && key.text == "<<") {
    error(codes::yaml_feature, path_below(path, "<<"), key.spot,
          "merge keys (<<) are not part of the format, found one; write the keys out");
    mark_unreadable(path);
    return false;
  }
  if (key.plain && key.text.find(" {") != std::string::npos) {
    error(codes::syntax, path_below(path, key.text.substr(0, key.text.find(" {"))), key.spot,
          "a key must be followed by ':', found " + in_quotes(key.text) +
              "; put a ':' before its '{'");
    return false;
  }
  return true;
}

void NodeReader::repeated(const Node& first, const Node& second, const std::string& path) {
  add(Severity::error, codes::duplicate_key, path, place_at(second.spot),
      "a key must stand once, found " + in_quotes(second.text) + " again; keep one of the two");
  also(place_at(first.spot), "first given here");
}

std::optional<std::vector<std::string>> NodeReader::material_names(const Node& node,
                                                                   const std::string& path) {
  const auto* items = list(node, path, "[urea, map]");
  if (items == nullptr) return std::nullopt;
  std::vector<std::string> read;
  for (std::size_t i = 0; i < items->size(); ++i)
    read.push_back(text((*items)[i], path_below(path, std::to_string(i))).value_or(""));
  return read;
}

void NodeReader::names(const Node& node, const std::string& path, std::string_view example,
                       const ReadEntry& read) {
  if (!is_mapping(node, path, example)) return;
  std::unordered_map<std::string_view, const Node*> seen;
  const NodeEntry* before = nullptr;
  for (const auto& entry : node.entries) {
    if (!is_key(entry.key, path)) continue;
    const std::string below_path = path_below(path, entry.key.text);
    if (reported_decimal_comma(before, entry, path)) continue;
    before = &entry;
    const auto [first, is_new] = seen.emplace(entry.key.text, &entry.key);
    if (!is_new) {
      repeated(*first->second, entry.key, below_path);
      continue;
    }
    const bool simple = entry.value.kind == Node::Kind::scalar;
    remember(below_path, simple ? entry.value.spot : entry.key.spot);
    read(entry.key, entry.value, below_path);
  }
}

bool NodeReader::reported_decimal_comma(const NodeEntry* before, const NodeEntry& entry,
                                        const std::string& path) {
  if (before == nullptr || entry.value.kind != Node::Kind::nothing) return false;
  const Node& whole = before->value;
  const auto fraction = read_whole_number(entry.key.text);
  if (!fraction || whole.kind != Node::Kind::scalar || !read_whole_number(whole.text)) {
    return false;
  }
  SourceSpan spot = whole.spot;
  if (spot.line == entry.key.spot.line) {
    spot.width = entry.key.spot.column + entry.key.spot.width - spot.column;
  }
  error(codes::bad_number, path_below(path, before->key.text), spot,
        "expected a number for " + before->key.text + ", found " +
            in_quotes(whole.text + "," + entry.key.text) + "; write " + whole.text + "." +
            entry.key.text);
  return true;
}

}  // namespace leastwise
