#pragma once
#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// Where a node starts, 1-based, and how wide it is on its first line; columns count characters.
struct SourceSpan {
  int line = 0;
  int column = 0;
  int width = 1;
};

struct NodeEntry;

/// A value of a YAML text, with the spot where it stands.
struct Node {
  enum class Kind {
    nothing,  ///< an empty value, `~` or `null`
    scalar,
    sequence,
    mapping,
    rejected,  ///< something the format does not know; the problem is reported already
  };
  Kind kind = Kind::nothing;
  bool plain = true;  ///< a scalar without quotes
  SourceSpan spot{};
  std::string text{};
  std::vector<Node> items{};
  std::vector<NodeEntry> entries;  // without {}: clang 14 would want NodeEntry complete here
};

/// A key and its value, in the order of the text; keys may repeat.
struct NodeEntry {
  Node key;
  Node value;
};

/// What is wrong with a text as YAML.
struct DocumentProblem {
  std::string_view code{};
  std::string message{};
  SourceSpan spot{};  ///< line 0 for the text as a whole
};

struct Document {
  Node root{};
  std::vector<DocumentProblem> problems{};
  bool complete = false;  ///< false: `root` must not be used
};

inline constexpr std::size_t deepest_document = 20;
inline constexpr std::size_t most_document_nodes = 1'000'000;

/// What is said of a text that is nested deeper, or holds more values.
[[nodiscard]] std::string too_deep_words();
[[nodiscard]] std::string too_many_words();

/// Reads one YAML document, or JSON where the text is JSON. Anchors, aliases, tags, merge keys and
/// second documents are problems, so that no text can grow on reading; so is nesting deeper than
/// any scenario. `lines` are those of `text`. Throws: LoadStopped.
[[nodiscard]] Document parse_document(const std::string& text,
                                      const std::vector<std::string>& lines,
                                      const std::stop_token& stop = {});

}  // namespace leastwise
