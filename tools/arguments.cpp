#include "arguments.hpp"

#include <leastwise/question.hpp>

#include <boost/program_options/errors.hpp>
#include <boost/program_options/parsers.hpp>
#include <boost/program_options/positional_options.hpp>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <sstream>

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr const char* operand = "file-operand";

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

}  // namespace

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

namespace {

/// What to write in place of `0,5` or `3%`; nothing where that is not certain.
std::string advice_on(std::string_view text) {
  const auto is_number = [](std::string_view part) {
    return !part.empty() && part.find_first_not_of("0123456789.") == std::string_view::npos;
  };
  if (text.ends_with('%') && is_number(text.substr(0, text.size() - 1)))
    return "; write it without the sign: " + std::string(text.substr(0, text.size() - 1));
  const std::size_t comma = text.find(',');
  if (comma == std::string_view::npos || !is_number(text.substr(0, comma)) ||
      !is_number(text.substr(comma + 1)))
    return {};
  std::string point(text);
  point[comma] = '.';
  return "; write a point in place of the comma: " + point;
}

}  // namespace

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
    throw UsageError(std::string(option) + " expects a number" + found + advice_on(text));
  }
  return value;
}

std::optional<double> number_given(const po::variables_map& options, const char* name) {
  if (options.count(name) == 0) return std::nullopt;
  return number_of(options[name].as<std::string>(), std::string("--") + name);
}

std::optional<long> whole_number_of(const po::variables_map& options, const char* name) {
  const auto number = number_given(options, name);
  if (!number) return std::nullopt;
  constexpr double exact =
      9007199254740992.0;  // 2^53: beyond it not every whole number is a double
  if (*number != std::floor(*number) || std::abs(*number) > exact)
    throw UsageError("--" + std::string(name) + " expects a whole number, found '" +
                     options[name].as<std::string>() + "'");
  return static_cast<long>(*number);
}

}  // namespace leastwise::cli
