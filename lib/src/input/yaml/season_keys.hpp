#pragma once
#include <leastwise/season.hpp>

#include <string>
#include <string_view>
#include <vector>

#include "input/yaml/node_reader.hpp"

namespace leastwise {

/// A blend as its keys state it, before its scenario is read.
struct SeasonBlendText {
  SeasonBlendDraft draft{};
  SourceSpan spot{};
  const Node* scenario = nullptr;  ///< a path, or a scenario inline
};

/// What a season file says.
struct SeasonText {
  SeasonDraft& draft;
  std::vector<SeasonBlendText> blends{};
};

/// Reads the root of a season file. The nodes must outlive `season`.
void read_season(NodeReader& reader, const Node& root, SeasonText& season);

}  // namespace leastwise
