#include "trial/field.hpp"

#include <algorithm>

namespace leastwise {
namespace trial {
namespace {

constexpr int most_side_by_side = 20;  // what a page has room for in letters of a readable size

int parts_of_whole(int whole, int part) { return (whole + part - 1) / part; }

int rows_of_block(const FieldLayout& field, int plots) {
  return parts_of_whole(plots, *field.block_columns);
}

int blocks_side_by_side(const FieldLayout& field) {
  return std::max(1, *field.columns / *field.block_columns);
}

}  // namespace

FieldLayout completed(FieldLayout field, int plots, int replicates) {
  const int readable = parts_of_whole(plots, parts_of_whole(plots, most_side_by_side));
  if (!field.columns) field.columns = field.block_columns.value_or(readable);
  if (!field.block_columns) field.block_columns = std::min(*field.columns, plots);
  if (!field.rows) field.rows = rows_taken(field, plots, replicates);
  return field;
}

int rows_taken(const FieldLayout& field, int plots, int replicates) {
  return parts_of_whole(replicates, blocks_side_by_side(field)) * rows_of_block(field, plots);
}

GridPlace place_of(const FieldLayout& field, int plots, int replicate, int position) {
  const int side_by_side = blocks_side_by_side(field);
  const int width = *field.block_columns;
  const int band = replicate / side_by_side;
  const int row_in_block = position / width;
  const int row = band * rows_of_block(field, plots) + row_in_block;
  int block = replicate % side_by_side;
  int column = position % width;
  if (field.serpentine && band % 2 == 1) block = side_by_side - 1 - block;
  if (field.serpentine && row % 2 == 1) column = width - 1 - column;
  return {row + 1, block * width + column + 1};
}

}  // namespace trial

std::string_view to_string(Corner corner) {
  switch (corner) {
    case Corner::bottom_left:
      return "bottom-left";
    case Corner::bottom_right:
      return "bottom-right";
    case Corner::top_left:
      return "top-left";
    case Corner::top_right:
      break;
  }
  return "top-right";
}

}  // namespace leastwise
