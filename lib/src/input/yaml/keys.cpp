#include "input/yaml/keys.hpp"

#include <algorithm>
#include <utility>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "input/yaml/number.hpp"
#include "input/yaml/us_units.hpp"

namespace leastwise {
namespace {

/// `minimum` of `min`, `price_per_t` of `price`.
bool is_longer_form(std::string_view text, std::string_view start) {
  constexpr std::size_t shortest = 3;
  return start.size() >= shortest && text.substr(0, start.size()) == start;
}

}  // namespace

KeyMatcher::KeyMatcher(NodeReader& reader, const std::string& path,
                       std::vector<std::string_view> known, Whereabouts key_locations)
    : reader_(reader),
      path_(path),
      known_(std::move(known)),
      seen_(known_.size(), nullptr),
      whereabouts_(key_locations) {}

std::optional<std::size_t> KeyMatcher::match(const NodeEntry& entry) {
  if (!reader_.is_key(entry.key, path_)) return std::nullopt;
  if (reader_.reported_decimal_comma(before_, entry, path_)) return std::nullopt;
  before_ = &entry;
  const auto found = position_of(entry.key.text);
  if (!found) {
    const std::string path = path_below(path_, entry.key.text);
    if (!reported_metric_key(entry, path)) report_unknown(entry, path);
    return std::nullopt;
  }
  const std::size_t position = *found;
  const std::string path = path_below(path_, known_[position]);
  if (seen_[position] != nullptr) {
    reader_.repeated(*seen_[position], entry.key, path);
    return std::nullopt;
  }
  seen_[position] = &entry.key;
  const bool simple = entry.value.kind == Node::Kind::scalar;
  reader_.remember(path, simple ? entry.value.spot : entry.key.spot);
  return position;
}

std::optional<std::size_t> KeyMatcher::position_of(const std::string& key) {
  measure_.reset();
  std::string name = key;
  if (reader_.units() == Units::us) {
    if (us_key_for(key)) return std::nullopt;  // a metric key
    if (const auto us = us_key(key); us && us->us_key == key) {
      name = us->metric_key;
      measure_ = us->measure;
    }
  }
  const auto found = std::find(known_.begin(), known_.end(), name);
  if (found == known_.end()) return std::nullopt;
  return static_cast<std::size_t>(found - known_.begin());
}

void KeyMatcher::report_unknown(const NodeEntry& entry, const std::string& path) {
  const std::string& typed = entry.key.text;
  const std::string where =
      path_.empty() ? " at the top of the file" : " under " + in_quotes(key_of(path_));
  if (const std::string place = whereabouts_(typed); !place.empty()) {
    reader_.error(codes::misplaced_key, path, entry.key.spot,
                  "the key " + in_quotes(typed) + " belongs " + place + ", found it" + where);
    return;
  }
  if (reported_us_key(entry, path)) return;
  Suggestion suggestion(typed);
  for (const auto key : known_) suggestion.offer(key);
  if (!suggestion.best()) {
    const auto whole = std::find_if(known_.begin(), known_.end(), [&](std::string_view key) {
      return is_longer_form(typed, key) || is_longer_form(key, typed);
    });
    if (whole != known_.end()) suggestion.settle(*whole);
  }
  if (const auto& meant = suggestion.best()) reader_.mark_unreadable(path_below(path_, *meant));
  reader_.error(codes::unknown_key, path, entry.key.spot,
                "unknown key " + in_quotes(typed) + where +
                    (suggestion.best() ? suggestion.question() : advice_for(entry)));
}

/// A key in pounds, acres or short tons is no slip of the pen: taking its value for a metric one
/// would be wrong by the factor, so the message has that and the value to write.
bool KeyMatcher::reported_us_key(const NodeEntry& entry, const std::string& path) {
  const auto us = us_key(entry.key.text);
  if (!us) return false;
  const bool here = std::find(known_.begin(), known_.end(), us->metric_key) != known_.end();
  if (!here && whereabouts_(us->metric_key).empty()) return false;
  std::string message =
      "the key " + in_quotes(entry.key.text) + " counts in US units (" + std::string(us->unit) +
      "), and this file in metric ones: " + std::string(us->equal) + "; write " + us->metric_key;
  const NumberText number =
      entry.value.kind == Node::Kind::scalar ? read_number(entry.value.text) : NumberText{};
  message += number.value ? ": " + rounded_text(*number.value * us->factor)
                          : ", each value times " + rounded_text(us->factor);
  message += ", or state units: us for the whole file";
  if (reader_.units() == Units::us)
    message = "the format has no key " + in_quotes(entry.key.text) + "; write " + us->us_key;
  if (here) reader_.mark_unreadable(path_below(path_, us->metric_key));
  reader_.error(codes::us_unit, path, entry.key.spot, message);
  return true;
}

/// A metric key in a file that counts in US units.
bool KeyMatcher::reported_metric_key(const NodeEntry& entry, const std::string& path) {
  if (reader_.units() != Units::us) return false;
  const auto us = us_key_for(entry.key.text);
  if (!us || std::find(known_.begin(), known_.end(), us->metric_key) == known_.end()) return false;
  std::string message =
      "the key " + in_quotes(entry.key.text) +
      " is metric, and this file counts in US units (units: us): " + std::string(us->equal) +
      "; write " + us->us_key;
  const NumberText number =
      entry.value.kind == Node::Kind::scalar ? read_number(entry.value.text) : NumberText{};
  message += number.value ? ": " + rounded_text(*number.value / us->factor)
                          : ", each value divided by " + rounded_text(us->factor);
  reader_.error(codes::us_unit, path, entry.key.spot, message);
  return true;
}

std::string KeyMatcher::advice_for(const NodeEntry& entry) const {
  if (entry.value.kind == Node::Kind::nothing && entry.key.text.find(':') != std::string::npos) {
    return "; put a blank after its ':'";
  }
  std::string advice = "; expected ";
  for (std::size_t i = 0; i < known_.size(); ++i) {
    if (i > 0) advice += i + 1 == known_.size() ? " or " : ", ";
    advice += known_[i];
  }
  return advice;
}

}  // namespace leastwise
