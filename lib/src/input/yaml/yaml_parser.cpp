#include "input/yaml/yaml_parser.hpp"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/mark.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <array>
#include <optional>
#include <sstream>
#include <utility>

#include "base/codes.hpp"
#include "base/reading_stop.hpp"
#include "base/text/wording.hpp"

namespace leastwise {
namespace {

/// Thrown through the parser to stop it at the first problem after which nothing can be trusted.
struct Stop {
  DocumentProblem problem;
};

/// The rest of a line from a mark on, whose column counts bytes.
std::string_view rest_of_line(const std::vector<std::string>& lines, const YAML::Mark& mark) {
  if (mark.line < 0 || static_cast<std::size_t>(mark.line) >= lines.size()) return {};
  const std::string& line = lines[static_cast<std::size_t>(mark.line)];
  const auto column = std::min(static_cast<std::size_t>(std::max(mark.column, 0)), line.size());
  return std::string_view(line).substr(column);
}

/// Turns the parser's marks, whose columns count bytes, into spots. Marks mostly come in the order
/// of the text, so counting goes on from the last one: a long line costs no more than a short one.
class SpotFinder {
 public:
  explicit SpotFinder(const std::vector<std::string>& lines) : lines_(lines) {}

  SourceSpan operator()(const YAML::Mark& mark) {
    if (mark.line < 0 || lines_.empty()) return {};
    const auto line = std::min(static_cast<std::size_t>(mark.line), lines_.size() - 1);
    const std::string_view text = lines_[line];
    const auto bytes = std::min(static_cast<std::size_t>(std::max(mark.column, 0)), text.size());
    if (line != line_ || bytes < bytes_) {
      line_ = line;
      bytes_ = 0;
      characters_ = 0;
    }
    characters_ += code_points(text.substr(bytes_, bytes - bytes_));
    bytes_ = bytes;
    return {static_cast<int>(line) + 1, static_cast<int>(characters_) + 1, 1};
  }

 private:
  const std::vector<std::string>& lines_;
  std::size_t line_ = 0;
  std::size_t bytes_ = 0;
  std::size_t characters_ = 0;
};

/// Bytes of the quoted scalar that `rest` starts with; nothing when it does not close there.
std::optional<std::size_t> quoted_length(std::string_view rest) {
  const char quote = rest.front();
  for (std::size_t i = 1; i < rest.size(); ++i) {
    if (quote == '"' && rest[i] == '\\') {
      ++i;
    } else if (rest[i] == quote) {
      if (quote == '"' || i + 1 >= rest.size() || rest[i + 1] != quote) return i + 1;
      ++i;
    }
  }
  return std::nullopt;
}

/// Builds the tree of one document from the parser's events.
class TreeBuilder : public YAML::EventHandler {
 public:
  TreeBuilder(const std::vector<std::string>& lines, Document& document,
              const std::stop_token& stop)
      : lines_(lines), spot_of_(lines), document_(document), stop_(stop) {}

  void OnDocumentStart(const YAML::Mark&) override {}
  void OnDocumentEnd() override {}

  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    check_properties(mark, {}, anchor);
    add({Node::Kind::nothing, true, spot_of_(mark), {}, {}, {}});
  }

  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override {
    reject(mark, "aliases (*) are not part of the format, found one; write the value out");
    add({Node::Kind::rejected, true, spot_of_(mark), {}, {}, {}});
  }

  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override {
    check_properties(mark, tag, anchor);
    Node node{Node::Kind::scalar, tag != "!", spot_of_(mark), value, {}, {}};
    const std::string_view rest = rest_of_line(lines_, mark);
    if (!rest.empty() && (rest.front() == '"' || rest.front() == '\'')) {
      const auto length = quoted_length(rest);
      if (!length) {
        throw Stop{{codes::syntax, "a quote must be closed on its own line, found no end of it",
                    node.spot}};
      }
      node.spot.width = static_cast<int>(code_points(rest.substr(0, *length)));
    } else if (rest.substr(0, value.size()) == value) {
      node.spot.width = static_cast<int>(std::max<std::size_t>(code_points(value), 1));
    }
    add(std::move(node));
  }

  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value) override {
    open(Node::Kind::sequence, mark, tag, anchor);
  }
  void OnSequenceEnd() override { close(); }
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value) override {
    open(Node::Kind::mapping, mark, tag, anchor);
  }
  void OnMapEnd() override { close(); }

  /// Where the innermost list or mapping that is still open begins.
  [[nodiscard]] std::optional<SourceSpan> open_spot() const {
    if (levels_.empty()) return std::nullopt;
    return levels_.back().node.spot;
  }

 private:
  /// A sequence or mapping that is still open.
  struct Level {
    Node node{};
    std::optional<Node> key{};
  };

  void reject(const YAML::Mark& mark, std::string message) {
    document_.problems.push_back({codes::yaml_feature, std::move(message), spot_of_(mark)});
  }

  void check_properties(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor) {
    if (anchor != 0) {
      reject(mark, "anchors (&) are not part of the format, found one; take it out");
    }
    if (!tag.empty() && tag != "?" && tag != "!") {
      reject(mark, "tags (!) are not part of the format, found one; take it out");
    }
  }

  void open(Node::Kind kind, const YAML::Mark& mark, const std::string& tag,
            YAML::anchor_t anchor) {
    if (levels_.size() >= deepest_document) {
      throw Stop{{codes::too_deep, too_deep_words(), spot_of_(mark)}};
    }
    check_properties(mark, tag, anchor);
    levels_.push_back({{kind, true, spot_of_(mark), {}, {}, {}}, {}});
  }

  void close() {
    Node node = std::move(levels_.back().node);
    levels_.pop_back();
    add(std::move(node));
  }

  void add(Node node) {
    leave_if_asked(stop_);
    if (++nodes_ > most_document_nodes) {
      throw Stop{{codes::file_too_large, too_many_words(), node.spot}};
    }
    if (levels_.empty()) {
      document_.root = std::move(node);
      return;
    }
    Level& level = levels_.back();
    if (level.node.kind == Node::Kind::sequence) {
      level.node.items.push_back(std::move(node));
    } else if (!level.key) {
      level.key = std::move(node);
    } else {
      // The parser places an empty value at whatever follows it.
      if (node.kind == Node::Kind::nothing) node.spot = level.key->spot;
      level.node.entries.push_back({std::move(*level.key), std::move(node)});
      level.key.reset();
    }
  }

  const std::vector<std::string>& lines_;
  SpotFinder spot_of_;
  Document& document_;
  const std::stop_token& stop_;
  std::vector<Level> levels_{};
  std::size_t nodes_ = 0;
};

/// Notices whether there is another document, and stops there.
class SecondDocument : public YAML::EventHandler {
 public:
  explicit SecondDocument(const std::vector<std::string>& lines) : spot_of_(lines) {}
  void OnDocumentStart(const YAML::Mark& mark) override {
    throw Stop{{codes::second_document,
                "a file must hold one document, found the start of a second one; check '---' "
                "lines, and that this line is indented like its neighbours",
                spot_of_(mark)}};
  }
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark&, YAML::anchor_t) override {}
  void OnAlias(const YAML::Mark&, YAML::anchor_t) override {}
  void OnScalar(const YAML::Mark&, const std::string&, YAML::anchor_t,
                const std::string&) override {}
  void OnSequenceStart(const YAML::Mark&, const std::string&, YAML::anchor_t,
                       YAML::EmitterStyle::value) override {}
  void OnSequenceEnd() override {}
  void OnMapStart(const YAML::Mark&, const std::string&, YAML::anchor_t,
                  YAML::EmitterStyle::value) override {}
  void OnMapEnd() override {}

 private:
  SpotFinder spot_of_;
};

/// The parser's own words and ours.
struct Wording {
  std::string_view theirs;
  std::string_view ours;
};

constexpr std::string_view unfit_indent =
    "every line must be indented like its neighbours or stand one level deeper, found a line "
    "that fits neither";

constexpr std::array<Wording, 12> wordings{{
    {"end of map not found", unfit_indent},
    {"end of sequence not found", unfit_indent},
    {"end of map flow not found", "a '{' must be closed with '}', found no end of it"},
    {"end of sequence flow not found", "a '[' must be closed with ']', found no end of it"},
    {"illegal map value",
     "a ':' must follow a key, found one that does not; check that the line above has a blank "
     "after its ':', that this line is indented like its neighbours, and put text that holds ': ' "
     "in quotes"},
    {"illegal flow end", "a closing bracket must match an opening one, found one that does not"},
    {"illegal block entry",
     "a list item '- ' must begin a line of its own, found one after something else"},
    {"unknown token",
     "a value must begin with a letter, a digit or a quote, found another character; put it in "
     "quotes"},
    {"unknown escape character",
     "a '\\' in double quotes must begin a known escape, found another; use single quotes"},
    {"illegal map key", "a key must begin a line, found one after something else"},
    {"the referenced anchor is not defined",
     "aliases (*) are not part of the format, found one; put text that begins with * in quotes"},
    {"illegal EOF in scalar", "a quote must be closed, found the end of the file"},
}};

DocumentProblem syntax_problem(const YAML::Exception& error,
                               const std::optional<SourceSpan>& open_spot,
                               const std::vector<std::string>& lines) {
  const std::string_view theirs = error.msg;
  const auto known = std::find_if(wordings.begin(), wordings.end(), [theirs](const Wording& w) {
    return theirs.substr(0, w.theirs.size()) == w.theirs;
  });
  const std::string message = known != wordings.end()
                                  ? std::string(known->ours)
                                  : "expected YAML, found a mistake: " + printable(theirs);
  const bool is_unclosed =
      theirs == YAML::ErrorMsg::END_OF_MAP_FLOW || theirs == YAML::ErrorMsg::END_OF_SEQ_FLOW;
  if (is_unclosed && open_spot) return {codes::syntax, message, *open_spot};
  const bool is_alias = theirs == YAML::ErrorMsg::UNKNOWN_ANCHOR;
  return {is_alias ? codes::yaml_feature : codes::syntax, message, SpotFinder(lines)(error.mark)};
}

/// Where a word stands that is longer than the parser takes for a key (YAML 1.2.2, 7.4.3: 1024
/// characters): it then misses the ':' behind it, and blames something else.
std::optional<SourceSpan> find_endless_key(const std::vector<std::string>& lines) {
  constexpr std::size_t longest = 1024;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const std::string& line = lines[i];
    for (std::size_t start = 0; start + longest < line.size();) {
      const std::size_t end = std::min(line.find_first_of("{}[],:", start), line.size());
      if (end - start > longest && end < line.size() && line[end] == ':') {
        const std::size_t first = line.find_first_not_of(" -\"'", start);
        const auto column = code_points(std::string_view(line).substr(0, first)) + 1;
        return SourceSpan{static_cast<int>(i) + 1, static_cast<int>(column), 1};
      }
      start = end + 1;
    }
  }
  return std::nullopt;
}

/// The first line that is indented with a tab; 0 when there is none.
std::optional<SourceSpan> find_tab_indent(const std::vector<std::string>& lines) {
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const std::size_t text = lines[i].find_first_not_of(" \t");
    if (text == std::string::npos || lines[i][text] == '#') continue;
    const std::size_t tab = lines[i].find('\t');
    if (tab < text) return SourceSpan{static_cast<int>(i) + 1, static_cast<int>(tab) + 1, 1};
  }
  return std::nullopt;
}

bool is_empty(const Document& document, bool any) {
  return !any || document.root.kind == Node::Kind::nothing;
}

}  // namespace

Document parse_yaml_document(const std::string& text, const std::vector<std::string>& lines,
                             const std::stop_token& stop) {
  Document document;
  if (const auto tab = find_tab_indent(lines)) {
    document.problems.push_back(
        {codes::tab_indent, "lines must be indented with blanks, found a tab", *tab});
    return document;
  }
  TreeBuilder tree(lines, document, stop);
  try {
    std::istringstream stream(text);
    YAML::Parser parser(stream);
    const bool any = parser.HandleNextDocument(tree);
    if (is_empty(document, any)) {
      document.problems.push_back(
          {codes::empty_file,
           "a file must say something, found nothing; begin with leastwise: 1",
           {}});
      return document;
    }
    SecondDocument second(lines);
    parser.HandleNextDocument(second);
    document.complete = true;
  } catch (const Stop& found) {
    document.problems.push_back(found.problem);
    document.complete = found.problem.code == codes::second_document;
  } catch (const YAML::Exception& error) {
    if (const auto key = find_endless_key(lines)) {
      document.problems.push_back(
          {codes::bad_name, "a name must be at most 100 bytes long, found a longer one", *key});
    } else {
      document.problems.push_back(syntax_problem(error, tree.open_spot(), lines));
    }
  }
  return document;
}

}  // namespace leastwise
