#pragma once
/// Solved by CLP.
struct Solved {};
