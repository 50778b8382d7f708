#include "input/named_file.hpp"

#include <system_error>

#include "base/codes.hpp"
#include "base/text/wording.hpp"

namespace leastwise {
namespace {

/// Whether `name` lies in `folder` or below it.
bool lies_inside(const std::filesystem::path& folder, const std::string& name) {
  std::error_code error;
  const auto whole = std::filesystem::weakly_canonical(folder, error);
  if (error) return false;
  const auto target = std::filesystem::weakly_canonical(folder / name, error);
  // A link that leads back to itself leads nowhere else; reading it will say so.
  if (error == std::errc::too_many_symbolic_link_levels) return true;
  if (error) return false;
  const auto relative = target.lexically_relative(whole);
  return !relative.empty() && *relative.begin() != "..";
}

}  // namespace

std::optional<NamedFileFault> fault_of_name(const std::filesystem::path& folder,
                                            const std::string& name, std::string_view owner,
                                            const LoadOptions& options) {
  const std::string who(owner);
  if (printable(name) != name) {
    return NamedFileFault{codes::bad_name,
                          "the name of a file must be on one line, without control characters, "
                          "found " +
                              in_quotes(name)};
  }
  if (folder.empty()) {
    return NamedFileFault{codes::no_folder,
                          "a " + who +
                              " that is not read from a file cannot name other files, found " +
                              in_quotes(name)};
  }
  if (!options.allow_outside && !lies_inside(folder, name)) {
    return NamedFileFault{codes::outside_folder,
                          "files must lie in the " + who + "'s own folder, found " +
                              in_quotes(name) +
                              "; move it there, or allow other folders with --allow-outside"};
  }
  return std::nullopt;
}

TextFile read_named_file(const std::filesystem::path& file, const LoadOptions& options) {
  if (options.on_named_file) options.on_named_file(file);
  return read_named_file(file);
}

}  // namespace leastwise
