#include "input/yaml/document.hpp"

#include "input/json_document.hpp"
#include "input/yaml/yaml_parser.hpp"

namespace leastwise {

std::string too_deep_words() {
  return "a scenario must be nested at most " + std::to_string(deepest_document) +
         " levels deep, found more";
}

std::string too_many_words() { return "a file must hold at most a million values, found more"; }

Document parse_document(const std::string& text, const std::vector<std::string>& lines,
                        const std::stop_token& stop) {
  return is_json(text) ? parse_json_document(text, stop) : parse_yaml_document(text, lines, stop);
}

}  // namespace leastwise
