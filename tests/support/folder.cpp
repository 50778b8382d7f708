#include "support/folder.hpp"

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <stdexcept>

namespace leastwise::support {

Folder::Folder() {
  std::string pattern = (std::filesystem::temp_directory_path() / "leastwise-XXXXXX").string();
  if (::mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no temporary folder");
  path_ = pattern;
}

Folder::~Folder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

std::string Folder::path(std::string_view name) const { return (path_ / name).string(); }

std::string Folder::write(std::string_view name, std::string_view text) const {
  std::filesystem::create_directories((path_ / name).parent_path());
  std::ofstream(path(name), std::ios::binary) << text;
  return path(name);
}

std::string Folder::read(std::string_view name) const {
  std::ifstream file(path(name), std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

std::vector<std::string> Folder::names() const {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(path_)) {
    names.push_back(entry.path().filename().string());
  }
  std::ranges::sort(names);
  return names;
}

}  // namespace leastwise::support
