#pragma once
// Random edits over every kind of record, the same on every machine for the same seed.
#include <algorithm>
#include <random>
#include <string>
#include <vector>

#include "core/edit/change.h"
#include "core/yard/field_value.h"

namespace yw::edit {

class RandomEdits {
 public:
  explicit RandomEdits(std::uint64_t seed) : random_(seed) {}

  std::int64_t below(std::int64_t n) {
    return static_cast<std::int64_t>(random_() % static_cast<std::uint64_t>(n));
  }

  /// One gesture: a few records added, changed or removed.
  Change next(const Yard& yard) {
    Editor editor(yard);
    const std::int64_t count = 1 + below(4);
    for (std::int64_t i = 0; i < count; ++i) {
      const std::int64_t dice = below(10);
      if (dice < 4)
        editor.add(randomRecord(editor.yard(), randomKind()));
      else if (dice < 8)
        change(editor);
      else
        editor.remove(anyId(editor.yard()));
    }
    return editor.finish("Step " + std::to_string(++steps_));
  }

 private:
  yard::RecordKind randomKind() {  // Settings and Site are there already, and only once
    return static_cast<yard::RecordKind>(2 + below(yard::kRecordKinds - 2));
  }
  Id anyId(const Yard& yard) {
    auto it = yard.records.begin();
    std::advance(it, below(static_cast<std::int64_t>(yard.records.size())));
    return it->first;
  }
  /// Some record of one of the kinds, or none.
  Id someOf(const Yard& yard, const std::vector<yard::RecordKind>& kinds) {
    std::vector<Id> fitting;
    for (const auto& [id, record] : yard.records)
      if (kinds.empty() || std::find(kinds.begin(), kinds.end(), yard::kindOf(*record)) != kinds.end())
        fitting.push_back(id);
    if (fitting.empty() || below(4) == 0) return {};
    return fitting[static_cast<std::size_t>(below(static_cast<std::int64_t>(fitting.size())))];
  }
  std::string randomText() {
    static const char* const kTexts[] = {"", "Arch", "Süd 庭", "a \"quoted\" \\ name", "line\nend", "18/3"};
    return kTexts[below(6)];
  }
  yard::FieldValue randomValue(const Yard& yard, const yard::FieldInfo& field) {
    using yard::FieldType;
    if (field.type == FieldType::Text) return field.name == "photo" ? std::string{} : randomText();
    if (field.type == FieldType::Point) return base::Point{{below(2'000'000) - 1'000'000}, {below(5'000)}};
    if (field.name == "active") return std::int64_t{0};  // only switching shows an idea
    if (field.type == FieldType::Flag) return below(2);
    if (field.type == FieldType::Choice) return below(static_cast<std::int64_t>(field.choices.size()));
    if (field.type == FieldType::Reference) return someOf(yard, field.refersTo).value;
    return field.least + below(std::min<std::int64_t>(field.most - field.least, 1'000'000) + 1);
  }
  yard::Record randomRecord(const Yard& yard, yard::RecordKind kind) {
    return withRandomLists(yard, withRandomFields(yard, yard::defaultRecord(kind), 3));
  }
  yard::Record withRandomFields(const Yard& yard, yard::Record record, int oneIn) {
    for (const auto& field : yard::fieldsOf(yard::kindOf(record))) {
      if (field.type == yard::FieldType::List || below(oneIn) != 0) continue;
      record = yard::withValue(record, field.name, randomValue(yard, field)).value();
    }
    return record;
  }
  yard::Terminal randomTerminal(const Yard& yard) {
    const Id record =
        someOf(yard, {yard::RecordKind::Port, yard::RecordKind::FusePosition, yard::RecordKind::Prop,
                      yard::RecordKind::Supply, yard::RecordKind::Outlet, yard::RecordKind::Box});
    for (int k = 0; record && k <= static_cast<int>(yard::TerminalKind::Box); ++k) {
      const auto kind = static_cast<yard::TerminalKind>(k);
      const auto kinds = yard::kindsOf(kind);
      if (!kinds.empty() && kinds[0] == yard::kindOf(*yard.records.at(record)))
        return {kind, record, below(100)};
    }
    return {};
  }
  /// Runs get only props that no run passes yet: a yard with a pixel in two runs cannot be saved.
  std::vector<yard::RunItem> randomItems(const Yard& yard) {
    std::vector<yard::RunItem> items{{yard::RunItemKind::NullPixel}};
    for (const auto& [id, prop] : yard::all<yard::Prop>(yard)) {
      const auto passes = [prop = id](const auto& run) {
        for (const auto& item : run.second->items)
          if (item.prop == prop) return true;
        return false;
      };
      const auto runs = yard::all<yard::Run>(yard);
      if (items.size() > 4 || std::any_of(runs.begin(), runs.end(), passes)) continue;
      const std::int64_t first = below(3);
      items.push_back(
          {yard::RunItemKind::Stretch, id, first, first == 0 ? 0 : first + below(50), below(2) == 1});
      items.back().lead = someOf(yard, {yard::RecordKind::Cable});
    }
    return items;
  }
  yard::Record withRandomLists(const Yard& yard, yard::Record record) {
    if (auto* prop = std::get_if<yard::Prop>(&record)) {
      prop->sizes = {{"height", below(1'000'000)}, {"rows", below(20)}};
      prop->choices = {{"order", randomText()}};
      prop->path = {base::Point{{below(9)}, {below(9)}}, {}};
      prop->parts = {{"left", {{1, 1 + below(50)}}}};
    } else if (auto* array = std::get_if<yard::PropArray>(&record)) {
      if (const Id member = someOf(yard, {yard::RecordKind::Prop}))
        array->members = {{member, below(2) == 1}};
    } else if (auto* run = std::get_if<yard::Run>(&record)) {
      run->items = randomItems(yard);
    } else if (auto* cable = std::get_if<yard::Cable>(&record)) {
      cable->from = randomTerminal(yard);
      cable->to = randomTerminal(yard);
    } else if (auto* measurement = std::get_if<yard::Measurement>(&record)) {
      measurement->at = randomTerminal(yard);
    } else if (auto* left = std::get_if<yard::LeftAsIs>(&record)) {
      if (const Id subject = someOf(yard, {})) left->subjects = {subject};
    } else if (auto* controller = std::get_if<yard::Controller>(&record)) {
      controller->sections = {{someOf(yard, {yard::RecordKind::Supply}), {5'000'000}}};
    } else if (auto* wall = std::get_if<yard::Wall>(&record)) {
      wall->openings = {{yard::OpeningKind::Door, randomText(), {}, {1}, {2}}};
    }
    return record;
  }
  void change(Editor& editor) {
    const Id id = anyId(editor.yard());
    editor.replace(id, withRandomFields(editor.yard(), *editor.yard().records.at(id), 6));
  }

  std::mt19937_64 random_;
  int steps_ = 0;
};

}  // namespace yw::edit
