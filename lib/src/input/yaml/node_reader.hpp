#pragma once
#include <leastwise/draft.hpp>

#include <functional>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/unit_factors.hpp"
#include "input/yaml/document.hpp"
#include "scenario/diagnostic_sink.hpp"

namespace leastwise {

/// `path` and `key` joined by a dot; at the top there is no dot.
[[nodiscard]] std::string path_below(std::string_view path, std::string_view key);

/// One text while it is read: turns nodes into typed values, remembers where each stood, and
/// reports what does not fit. Knows nothing of what the keys mean.
///
/// Every reading function answers nothing when it has reported an error; the path is then marked
/// as unreadable, so that later checks say no more about it.
class NodeReader {
 public:
  using Places = std::map<std::string, Place, std::less<>>;
  using Sources = std::map<std::string, std::vector<std::string>, std::less<>>;

  /// `sources` holds the lines of every text by name; all three must outlive the reader.
  NodeReader(std::string name, const Sources& sources, Places& places, Reading& reading);

  [[nodiscard]] const std::string& name() const { return name_; }
  [[nodiscard]] Place place_at(const SourceSpan& spot) const;

  /// Reports an error at a node and marks `path` as unreadable.
  void error(std::string_view code, const std::string& path, const SourceSpan& spot,
             std::string message);
  /// Reports an error that is not about a value of its own.
  void report(const DocumentProblem& problem);
  /// Adds a note to the error just reported.
  void also(const Place& place, std::string message);
  void mark_unreadable(std::string path) { reading_->unreadable.insert(std::move(path)); }
  void remember(const std::string& path, const SourceSpan& spot);

  /// The units that the text counts in; metric until told otherwise.
  [[nodiscard]] Units units() const { return units_; }
  void count_in(Units units) { units_ = units; }
  /// While it lives, `number` turns what it reads, a figure of that kind in the units of the text,
  /// into a metric one.
  class Scaled {
   public:
    Scaled(NodeReader& reader, std::optional<Measure> measure)
        : reader_(reader), before_(reader.measure_) {
      reader.measure_ = measure;
    }
    ~Scaled() { reader_.measure_ = before_; }
    Scaled(const Scaled&) = delete;
    Scaled& operator=(const Scaled&) = delete;

   private:
    NodeReader& reader_;
    std::optional<Measure> before_;
  };

  [[nodiscard]] std::optional<std::string> text(const Node& node, const std::string& path);
  [[nodiscard]] std::optional<double> number(const Node& node, const std::string& path);
  /// `range` (` from 1 to 9`) is what the message says of it; the caller checks it.
  [[nodiscard]] std::optional<int> whole_number(const Node& node, const std::string& path,
                                                std::string_view range = {});
  [[nodiscard]] std::optional<bool> boolean(const Node& node, const std::string& path);
  /// The position of the text among `choices`.
  [[nodiscard]] std::optional<std::size_t> choice(const Node& node, const std::string& path,
                                                  std::span<const std::string_view> choices);
  /// The items of a list; each gets the path `path.0`, `path.1` ... `example` shows the form.
  [[nodiscard]] const std::vector<Node>* list(const Node& node, const std::string& path,
                                              std::string_view example);
  /// A list of names of materials; an item that cannot be read is an empty name.
  [[nodiscard]] std::optional<std::vector<std::string>> material_names(const Node& node,
                                                                       const std::string& path);

  /// Calls `read(key, value, path of the value)` for each entry of a mapping whose keys are free
  /// names. Reports repeated keys and merge keys; `example` shows the form.
  using ReadEntry = std::function<void(const Node& key, const Node& value, const std::string&)>;
  void names(const Node& node, const std::string& path, std::string_view example,
             const ReadEntry& read);

  /// Whether `node` is a mapping; complains when it is not.
  [[nodiscard]] bool is_mapping(const Node& node, const std::string& path,
                                std::string_view example);
  /// Whether the key of an entry may be looked at: a plain word, and not `<<`.
  [[nodiscard]] bool is_key(const Node& key, const std::string& path);
  /// Complains about a key that stands twice in a mapping.
  void repeated(const Node& first, const Node& second, const std::string& path);

  /// `{N: 1,5}` reads as N: 1 and an empty key 5: says so. `before` may be null.
  [[nodiscard]] bool reported_decimal_comma(const NodeEntry* before, const NodeEntry& entry,
                                            const std::string& path);

 private:
  [[nodiscard]] bool reject_unless(Node::Kind kind, const Node& node, const std::string& path,
                                   const std::string& expected);
  void add(Severity severity, std::string_view code, const std::string& path, const Place& place,
           std::string message);

  std::string name_;
  const Sources* sources_;
  Places* places_;
  Reading* reading_;
  Units units_ = Units::metric;
  std::optional<Measure> measure_{};  ///< of the numbers that are being read
};

/// What a value is, for a message: `'4l0'`, `a list`, `nothing`.
[[nodiscard]] std::string found_text(const Node& node);

/// The last key of a dotted path, for a message: `price_per_t`, `item 2 of use`.
[[nodiscard]] std::string key_of(std::string_view path);

}  // namespace leastwise
