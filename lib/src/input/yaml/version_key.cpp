#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "input/yaml/limits_keys.hpp"
#include "input/yaml/scenario_keys.hpp"

namespace leastwise {
namespace {

constexpr std::string_view known_version = "1";

}  // namespace

void count_as_stated(NodeReader& reader, const Node& root) {
  const NodeEntry* units = find_entry(root, "units");
  const bool us = units != nullptr && units->value.kind == Node::Kind::scalar &&
                  units->value.text == to_string(Units::us);
  reader.count_in(us ? Units::us : Units::metric);
}

bool check_version(NodeReader& reader, const Node& root, bool required) {
  const NodeEntry* found = find_entry(root, "leastwise");
  if (found == nullptr) {
    if (required) {
      reader.error(codes::missing_key, "leastwise",
                   root.entries.empty() ? root.spot : root.entries.front().key.spot,
                   "a scenario must begin with its format version, found none; add leastwise: 1 as "
                   "the first line");
    }
    return true;
  }
  const Node& value = found->value;
  if (value.kind != Node::Kind::scalar || value.text != known_version) {
    reader.error(codes::format_version, "leastwise",
                 value.kind == Node::Kind::scalar ? value.spot : found->key.spot,
                 "expected format version 1, found " + found_text(value) +
                     "; nothing else was read, since another version may mean other things");
    return false;
  }
  if (found != &root.entries.front()) {
    reader.error(codes::format_version, "leastwise", found->key.spot,
                 "the format version must be the first key, found it after " +
                     in_quotes(root.entries.front().key.text) + "; move it to the top");
  }
  return true;
}

}  // namespace leastwise
