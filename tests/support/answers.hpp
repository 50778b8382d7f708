#pragma once
#include <leastwise/formulate.hpp>

#include <optional>
#include <string>

namespace leastwise::support {

/// What came of a changed draft.
enum class PeerOutcome {
  blend,
  impossible,
  empty,    ///< the change asks for nothing any more: spreading nothing at no cost would do
  stopped,  ///< the library gave up, without a limit to do so
  refused,  ///< the change makes no valid scenario; nothing can be learned from it
};

struct Reply {
  PeerOutcome outcome = PeerOutcome::refused;
  double cost = 0;  ///< per hectare or per tonne, by basis; 0 for `empty`
  std::optional<Formulation> answer{};

  /// True when the rules leave room for an answer, be it the empty one.
  [[nodiscard]] bool possible() const {
    return outcome == PeerOutcome::blend || outcome == PeerOutcome::empty;
  }
};

/// Formulates a draft.
[[nodiscard]] Reply reply_to(const ScenarioDraft& draft, bool intervals = false);

}  // namespace leastwise::support
