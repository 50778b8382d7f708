#pragma once
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise::support {

/// A folder of its own for one test; gone at its end.
class Folder {
 public:
  Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder();

  /// Writes a file into the folder, or into one in it, and returns its path.
  std::string write(std::string_view name, std::string_view text) const;
  [[nodiscard]] std::string path(std::string_view name) const;
  [[nodiscard]] std::string read(std::string_view name) const;
  [[nodiscard]] std::vector<std::string> names() const;

 private:
  std::filesystem::path path_{};
};

}  // namespace leastwise::support
