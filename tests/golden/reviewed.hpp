#pragma once
#include <filesystem>
#include <functional>
#include <initializer_list>
#include <string>
#include <string_view>

/// Messages that a reviewer has read from top to bottom, kept in a golden file.
namespace leastwise::golden {

/// While it lives, `path` is the current folder: messages name files as the user wrote them, so the
/// inputs are read from their own folder.
class InFolder {
 public:
  explicit InFolder(const std::filesystem::path& path);
  ~InFolder();
  InFolder(const InFolder&) = delete;
  InFolder& operator=(const InFolder&) = delete;

 private:
  std::filesystem::path before_;
};

/// What a file holds; nothing when it cannot be read.
[[nodiscard]] std::string read(const std::filesystem::path& file);

/// One input under its title, with what was said about it.
[[nodiscard]] std::string section(const std::string& title, const std::string& said);

/// Fails where `now` leaves what `file` holds, which it writes anew under LEASTWISE_UPDATE_GOLDEN.
void check_as_reviewed(const std::filesystem::path& file, const std::string& now);

/// Checks the code of every error that `messages` show, and returns how many those are.
std::size_t check_codes(const std::string& messages,
                        const std::function<bool(std::string_view)>& known);

/// Checks that `messages` hold none of `words`.
void check_free_of(const std::string& messages, std::initializer_list<const char*> words);

}  // namespace leastwise::golden
