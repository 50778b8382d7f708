#include <leastwise/load_stopped.hpp>

namespace leastwise {

LoadStopped::LoadStopped()
    : std::runtime_error("stopped before it was known whether the input is right") {}

}  // namespace leastwise
