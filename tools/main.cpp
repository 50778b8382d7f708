#include <leastwise/diagnostic.hpp>
#include <leastwise/question.hpp>
#include <leastwise/report.hpp>
#include <leastwise/version.hpp>

#include <exception>
#include <sstream>
#include <system_error>

#include "arguments.hpp"
#include "commands.hpp"
#include "exit_code.hpp"
#include "long_work.hpp"
#include "output.hpp"

namespace leastwise::cli {
namespace {

std::string global_help() {
  std::ostringstream page;
  page << "Usage: leastwise COMMAND [options] [FILE]\n\n"
          "Finds least-cost granular fertilizer blends that obey every rule of a scenario,\n"
          "and says which rules set the price.\n\n"
          "Commands:\n";
  constexpr std::size_t name_width = 14;
  for (const Command* command : commands()) {
    page << "  " << command->name << std::string(name_width - command->name.size(), ' ')
         << command->summary << '\n';
  }
  page << "\n'leastwise COMMAND --help' explains a command.\n\n"
          "Exit codes: 0 blend found, or the command did what it was asked; 1 input\n"
          "rejected; 2 no blend obeys every rule; 3 stopped before a proof; 64 wrong usage;\n"
          "70 a fault of the tool or the machine; 74 the report could not be written.\n"
          "Reports go to standard output, everything else to standard error.\n\n"
          "Examples:\n"
          "  leastwise blend field.yaml\n"
          "  leastwise check field.yaml\n"
          "  leastwise materials --format csv\n";
  return page.str();
}

int dispatch(const Arguments& arguments) {
  if (arguments.empty()) throw UsageError("a command is missing\nSee 'leastwise --help'.");
  const std::string& first = arguments.front();
  const Arguments rest(arguments.begin() + 1, arguments.end());
  if (first == "--version") {
    Output{}.write("leastwise " + std::string(version()) + "\n");
    return blend_found;
  }
  if (first == "--help" || first == "-h" || (first == "help" && rest.empty())) {
    Output{}.write(global_help());
    return blend_found;
  }
  if (first == "help") return find_command(rest.front()).run({"--help"});
  if (first.starts_with('-')) {
    throw UsageError("unknown option '" + first + "'" +
                     did_you_mean(first, {"--help", "--version"}) + "\nSee 'leastwise --help'.");
  }
  return find_command(first).run(rest);
}

/// Whether the arguments ask for JSON, and so for data whatever happens.
bool ask_for_json(const Arguments& arguments) {
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    if (arguments[i] == "--format=json") return true;
    if (arguments[i] == "--format" && i + 1 < arguments.size()) return arguments[i + 1] == "json";
  }
  return false;
}

/// Hands a report of what went wrong to a program that asked for JSON. The words go to standard
/// error as always.
void tell_program(const Arguments& arguments, const std::string& report) {
  if (!ask_for_json(arguments)) return;
  try {
    Output{}.write(report);
  } catch (const WriteError&) {
    complain("leastwise: this could not be written as JSON\n");
  }
}

/// A mistake on the command line as a finding about the input.
InputError as_finding(const UsageError& error) {
  Diagnostic diagnostic;
  diagnostic.code = "usage";
  diagnostic.message = error.what();
  return InputError({diagnostic});
}

/// Runs the command and turns what went wrong into words and an exit code.
int run_command(const Arguments& arguments) {
  const std::string command = arguments.empty() ? std::string() : arguments.front();
  try {
    return dispatch(arguments);
  } catch (const UsageError& error) {
    complain("leastwise: " + std::string(error.what()) + "\n");
    tell_program(arguments, to_json(as_finding(error), command));
    return usage;
  } catch (const InputError& error) {
    std::string text = error.to_text();
    if (!text.ends_with('\n')) text += '\n';
    complain(text);
    tell_program(arguments, to_json(error, command));
    return input_rejected;
  } catch (const ReadingStopped& error) {
    complain("leastwise: " + std::string(error.what()) + "\n");
    tell_program(arguments, unread_to_json(command, error.cause(), error.what()));
    return stopped;
  } catch (const WriteError& error) {
    if (*error.what() != '\0') complain("leastwise: " + std::string(error.what()) + "\n");
    return not_written;
  } catch (const std::bad_alloc&) {
    complain("leastwise: out of memory\n");
  } catch (const std::system_error& error) {
    const bool scarce = error.code() == std::errc::resource_unavailable_try_again ||
                        error.code() == std::errc::not_enough_memory;
    complain(scarce ? "leastwise: out of memory, or of threads\n"
                    : "leastwise: unexpected failure: " + std::string(error.what()) + "\n");
  } catch (const std::exception& error) {
    complain("leastwise: unexpected failure: " + std::string(error.what()) + "\n");
  }
  return internal;
}

}  // namespace
}  // namespace leastwise::cli

int main(int count, char** words) {
  leastwise::cli::secure_standard_streams();
  return leastwise::cli::run_command(
      leastwise::cli::Arguments(words + (count > 0 ? 1 : 0), words + count));
}
