#include "arguments.hpp"

#include <algorithm>
#include <boost/program_options/errors.hpp>
#include <boost/program_options/parsers.hpp>
#include <boost/program_options/positional_options.hpp>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <numeric>
#include <sstream>

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr const char* operand = "file-operand";

std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    std::size_t diagonal = std::exchange(row[0], i + 1);
    for (std::size_t j = 0; j < b.size(); ++j) {
      const std::size_t replaced = diagonal + (a[i] == b[j] ? 0 : 1);
      diagonal = row[j + 1];
      row[j + 1] = std::min({replaced, row[j] + 1, diagonal + 1});
    }
  }
  return row.back();
}

std::vector<std::string> names_of(const po::options_description& options) {
  std::vector<std::string> names{"--help"};
  for (const auto& option : options.options()) names.push_back("--" + option->long_name());
  return names;
}

std::string see_help(const Synopsis& synopsis) {
  return "\nSee 'leastwise " + std::string(synopsis.command) + " --help'.";
}

po::variables_map parsed_options(const Arguments& arguments, const Synopsis& synopsis,
                                 const po::options_description& options) {
  po::options_description all;
  all.add(options);
  all.add_options()("help,h", "");
  all.add_options()(operand, po::value<std::vector<std::string>>());
  po::positional_options_description positional;
  positional.add(operand, -1);
  namespace style = po::command_line_style;
  constexpr int exact_style = style::unix_style & ~style::allow_guessing;
  po::variables_map map;
  try {
    po::store(po::command_line_parser(arguments)
                  .options(all)
                  .positional(positional)
                  .style(exact_style)
                  .run(),
              map);
    po::notify(map);
  } catch (const po::unknown_option& error) {
    const std::string name = error.get_option_name();
    throw UsageError("unknown option '" + name + "'" + did_you_mean(name, names_of(options)) +
                     see_help(synopsis));
  } catch (const po::error& error) {
    throw UsageError(error.what() + see_help(synopsis));
  }
  return map;
}

std::string without_trailing_spaces(std::string text) {
  for (std::size_t at = 0; (at = text.find(" \n", at)) != std::string::npos;) {
    const std::size_t last = text.find_last_not_of(' ', at);
    at = last == std::string::npos ? 0 : last + 1;
    text.erase(at, text.find('\n', at) - at);
  }
  return text;
}

/// Letters to change for `candidate`, if it is near: two at most, and none of a word of one letter,
/// one of a word of two or three. The words of a name count one by one, for one letter makes
/// another nutrient.
std::optional<std::size_t> edits_to(std::string_view typed, std::string_view candidate) {
  constexpr std::size_t farthest = 2;
  std::size_t all = 0;
  for (;;) {
    const std::size_t space = typed.find(' ');
    const std::size_t other = candidate.find(' ');
    const bool last = space == std::string_view::npos || other == std::string_view::npos;
    const auto word = last ? typed : typed.substr(0, space);
    const auto meant = last ? candidate : candidate.substr(0, other);
    const std::size_t edits = edit_distance(word, meant);
    const std::size_t shorter = std::min(word.size(), meant.size());
    if (edits > (shorter <= 1 ? 0 : shorter <= 3 ? 1 : farthest)) return std::nullopt;
    all += edits;
    if (last) break;
    typed.remove_prefix(space + 1);
    candidate.remove_prefix(other + 1);
  }
  if (all > farthest) return std::nullopt;
  return all;
}

}  // namespace

std::string did_you_mean(std::string_view word, const std::vector<std::string>& known) {
  const std::string* nearest = nullptr;
  std::size_t distance = std::string::npos;
  for (const std::string& candidate : known) {
    const auto edits = edits_to(word, candidate);
    if (edits && *edits < distance) {
      nearest = &candidate;
      distance = *edits;
    }
  }
  return nearest == nullptr ? std::string{} : "; did you mean '" + *nearest + "'?";
}

Parsed parsed(const Arguments& arguments, const Synopsis& synopsis,
              const po::options_description& options) {
  Parsed result{parsed_options(arguments, synopsis, options), {}, {}, false};
  result.help_asked = result.options.count("help") > 0;
  if (result.help_asked) return result;
  std::vector<std::string> operands;
  if (result.options.count(operand) > 0) {
    operands = result.options[operand].as<std::vector<std::string>>();
  }
  if (synopsis.operands.empty() && !operands.empty()) {
    throw UsageError("'" + std::string(synopsis.command) + "' takes no file" + see_help(synopsis));
  }
  if (operands.size() > 1 && !synopsis.many_files) {
    throw UsageError("expected one FILE, found '" + operands[1] + "' as well" + see_help(synopsis));
  }
  if (operands.empty() && synopsis.file_required) {
    throw UsageError("FILE is missing" + see_help(synopsis));
  }
  if (!operands.empty()) result.file = operands.front();
  result.files = std::move(operands);
  return result;
}

std::string help_page(const Synopsis& synopsis, const po::options_description& options) {
  std::ostringstream page;
  page << "Usage: leastwise " << synopsis.command << " [options]"
       << (synopsis.operands.empty() ? "" : " ") << synopsis.operands << "\n\n"
       << synopsis.about << '\n';
  po::options_description all("Options");
  for (const auto& option : options.options()) all.add(option);
  all.add_options()("help,h", "print this page");
  page << all << "\nExamples:\n" << synopsis.examples;
  return without_trailing_spaces(page.str());
}

double number_of(std::string_view text, std::string_view option) {
  const std::string found = ", found '" + std::string(text) + "'";
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool whole = end == text.data() + text.size();
  if (whole && error == std::errc::result_out_of_range) {
    value = std::strtod(std::string(text).c_str(), nullptr);  // tells too large from almost 0
    if (std::abs(value) < 1) return 0;                        // as in a file
    throw UsageError(std::string(option) + " expects a number" + found + "; it is too large");
  }
  if (!whole || error != std::errc{} || !std::isfinite(value)) {
    throw UsageError(std::string(option) + " expects a number" + found);
  }
  return value;
}

}  // namespace leastwise::cli
