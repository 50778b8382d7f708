#include "reference/nutrients/published.hpp"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <stdexcept>

namespace leastwise::published {
namespace {

double half_unit(std::string_view printed) {
  const std::size_t dot = printed.find('.');
  const std::size_t decimals = dot == std::string_view::npos ? 0 : printed.size() - dot - 1;
  return 0.5 * std::pow(10.0, -static_cast<double>(decimals));
}

double number(std::string_view text) {
  const std::optional<double> value = parse_number(text);
  if (!value) throw std::runtime_error("not a number: " + std::string(text));
  return *value;
}

}  // namespace

Table table(const std::string& file_name) {
  std::ifstream file(LEASTWISE_SOURCE_DIR "/tests/reference/data/" + file_name, std::ios::binary);
  if (!file) throw std::runtime_error("cannot open " + file_name);
  return Table(file_name, std::string(std::istreambuf_iterator<char>(file), {}));
}

std::optional<Range> printed_range(std::string_view text) {
  if (text.empty()) return {};
  const std::size_t dash = text.find('-');
  const std::string_view low = text.substr(0, dash);
  const std::string_view high = dash == std::string_view::npos ? low : text.substr(dash + 1);
  return Range{number(low) - half_unit(low), number(high) + half_unit(high)};
}

double percent_of(const std::vector<Content>& contents, std::string_view name) {
  const auto found = std::ranges::find(contents, name, &Content::name);
  return found == contents.end() ? 0 : found->percent;
}

std::string kebab(std::string text) {
  std::ranges::replace(text, ' ', '-');
  return text;
}

}  // namespace leastwise::published
