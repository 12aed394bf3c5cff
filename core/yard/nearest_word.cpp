#include "core/yard/nearest_word.h"

#include <algorithm>
#include <numeric>

namespace yw::yard {
namespace {

/// Letters to add, drop or change to get from one word to the other (Levenshtein 1966).
std::size_t slips(const std::string& a, const std::string& b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i + 1;
    for (std::size_t j = 0; j < b.size(); ++j) {
      const std::size_t change = diagonal + (a[i] == b[j] ? 0 : 1);
      diagonal = row[j + 1];
      row[j + 1] = std::min({change, row[j] + 1, diagonal + 1});
    }
  }
  return row.back();
}

}  // namespace

std::string nearestWord(const std::string& typed, const std::vector<std::string>& known) {
  if (typed.size() > 60) return {};
  std::string best;
  std::size_t fewest = std::max<std::size_t>(2, typed.size() / 2) + 1;
  for (const std::string& word : known) {
    const std::size_t n = slips(typed, word);
    if (n < fewest) {
      fewest = n;
      best = word;
    }
  }
  return best;
}

}  // namespace yw::yard
