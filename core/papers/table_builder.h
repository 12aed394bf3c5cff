#pragma once
#include <string>
#include <utility>
#include <vector>

#include "core/papers/papers.h"
#include "core/papers/words.h"

namespace yw::papers {

/// Makes one table of papers.h column by column and row by row. A column's head is the wording `head_<key>`;
/// its key gets the unit after a `_`, e.g. `cut` with unit `ft` is `cut_ft`.
class TableBuilder {
 public:
  TableBuilder(std::string name, Facts titleFacts = {}) {
    table_.title = say("title_" + name, titleFacts);
    table_.name = std::move(name);
  }
  TableBuilder& words(const std::string& key) { return column(key, "", false); }
  TableBuilder& number(const std::string& key, const std::string& unit = "") {
    return column(key, unit, true);
  }
  void row(Id record, std::vector<std::string> cells) {
    cells.resize(table_.keys.size());
    table_.rows.push_back(std::move(cells));
    table_.rowRecord.push_back(record);
  }
  Table take() { return std::move(table_); }

 private:
  TableBuilder& column(const std::string& key, const std::string& unit, bool isNumber) {
    table_.columns.push_back(key);
    table_.keys.push_back(unit.empty() || unit == "%" ? key + (unit.empty() ? "" : "_percent")
                                                      : key + "_" + unit);
    table_.heads.push_back(say("head_" + key) + (unit.empty() ? "" : ", " + unit));
    table_.numbers.push_back(isNumber);
    return *this;
  }
  Table table_;
};

}  // namespace yw::papers
