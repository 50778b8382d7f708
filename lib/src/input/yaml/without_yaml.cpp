#include "base/codes.hpp"
#include "input/json_document.hpp"
#include "input/yaml/yaml_parser.hpp"

namespace leastwise {

Document parse_yaml_document(const std::string& text, const std::vector<std::string>& /*lines*/,
                             const std::stop_token& stop) {
  const auto first = text.find_first_not_of(" \t\n\r");
  if (first != std::string::npos && text[first] == '{') return parse_json_document(text, stop);
  Document document;
  if (first == std::string::npos) {
    document.problems.push_back(
        {codes::empty_file,
         "a file must say something, found nothing; begin with {\"leastwise\": 1",
         {}});
  } else {
    document.problems.push_back(
        {codes::syntax,
         "expected JSON, which begins with {: this program was linked to the "
         "part of the library that reads no YAML",
         {}});
  }
  return document;
}

}  // namespace leastwise
