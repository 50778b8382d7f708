#pragma once
inline std::string forgot_to_include_string() { return {}; }
