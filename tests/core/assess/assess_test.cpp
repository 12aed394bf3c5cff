#include "core/assess/assess.h"

#include <gtest/gtest.h>

#include <fstream>
#include <random>

#include "core/yard/codec.h"

namespace yw::assess {
namespace {

yard::Yard sample(const std::string& name) {
  std::ifstream file(std::string(YARDWRIGHT_ROOT) + "/sample-yards/" + name + ".yard");
  EXPECT_TRUE(file.good()) << name;
  yard::Yard yard;
  for (std::string line; std::getline(file, line);) {
    if (!line.starts_with("{\"id\":")) continue;
    if (line.back() == ',') line.pop_back();
    auto read = yard::decode(line);
    EXPECT_TRUE(read.has_value()) << line;
    if (!read) continue;
    yard.nextId = std::max(yard.nextId, read->first.value + 1);
    yard.records.emplace(read->first, std::make_shared<const yard::Record>(std::move(read->second)));
  }
  return yard;
}

/// Every figure as bytes: bit for bit the same means the same text.
class Print {
 public:
  Print& operator<<(double v) {
    out_.append(reinterpret_cast<const char*>(&v), sizeof v);
    return *this;
  }
  Print& operator<<(std::int64_t v) {
    out_ += std::to_string(v) + ' ';
    return *this;
  }
  Print& operator<<(Id id) { return *this << id.value; }
  Print& operator<<(const std::string& s) {
    out_ += s + '|';
    return *this;
  }
  Print& operator<<(const base::Vec3& p) { return *this << p.x << p.y << p.z; }
  template <class T>
  Print& operator<<(const std::vector<T>& list) {
    *this << static_cast<std::int64_t>(list.size());
    for (const T& item : list) *this << item;
    return *this;
  }
  std::string take() { return std::move(out_); }

 private:
  std::string out_;
};

void printPower(Print& p, const circuit::Power& power) {
  for (const auto& [id, run] : power.runs)
    p << id << run.volts << run.zeroVolts << run.segmentAmps << run.portAmps << run.lowestVolts
      << run.loadFactor;
  for (const auto& [id, feed] : power.feeds) p << id << feed.amps << feed.voltsAtPixel << feed.runPixel;
  for (const auto& [id, supply] : power.supplies) p << id << supply.amps << supply.lineAmps;
  for (const auto& [id, circuit] : power.circuits) p << id << circuit.amps << circuit.leakage;
}

void printFaults(Print& p, const circuit::Faults& faults) {
  for (const auto& [id, loss] : faults.lost)
    p << id << loss.dark << loss.low << loss.volts << loss.worst.run << loss.worst.place << loss.next
      << loss.nextAmps << loss.wireAmps << loss.afterwards << loss.crossing << loss.carried << loss.spares;
  for (const auto& [id, fault] : faults.shorts)
    p << id << fault.at.run << fault.at.place << fault.prospective << fault.amps << fault.most
      << fault.wireAmps << static_cast<std::int64_t>(fault.end);
  for (const auto& [id, most] : faults.most) p << id << most.amps << most.lost;
  for (const auto& [run, worst] : faults.worst) p << run << worst.lost << worst.volts;
  for (const auto& [run, open] : faults.zeroOpen) p << run << open.board << open.at.place;
}

std::string figuresOf(const Assessment& a) {
  Print p;
  printFaults(p, a.faults());
  for (const auto& [id, shape] : a.shapes)
    p << id << shape->pixels << shape->hop << shape->in.at << shape->out.at;
  for (const auto& [id, error] : a.shapeErrors) p << id << error.message.key;
  for (const auto& [key, cable] : a.routes.cables)
    p << static_cast<std::int64_t>(key.role) << key.of << key.item << cable.label << cable.fromText
      << cable.toText << cable.path << cable.planLength << cable.verticalLength << cable.cutLength.count
      << cable.crosses << cable.enters << cable.wire << cable.record
      << static_cast<std::int64_t>(cable.blocked) << static_cast<std::int64_t>(cable.tooShort);
  for (const auto& [id, layout] : a.layouts) p << id << layout->along << layout->wireBefore << layout->wire;
  printPower(p, a.limit);
  printPower(p, a.fullWhite);
  for (const auto& [id, run] : a.data.runs)
    p << id << run.start.universe << run.start.slot << run.end.universe << run.end.slot << run.frame.count
      << run.limitByFrame;
  for (const auto& part : a.totals.parts)
    p << part.what << part.count << part.length.count << part.cost.count;
  for (const auto& [id, left] : a.unwired) p << id << left;
  for (const auto& [id, places] : a.wiredIn)
    for (const auto& [run, item] : places) p << id << run << item;
  return p.take();
}

/// Changes one record of the yard in some way a person might.
class Editor {
 public:
  explicit Editor(unsigned seed) : random_(seed) {}

  void edit(yard::Yard& yard) {
    const auto it = std::next(yard.records.begin(), static_cast<std::ptrdiff_t>(pick(yard.records.size())));
    yard::Record copy = *it->second;
    const Id id = it->first;
    if (pick(12) == 0 && yard::kindOf(copy) > yard::RecordKind::Site) {
      yard.records.erase(it);
      return;
    }
    if (auto* prop = std::get_if<yard::Prop>(&copy)) changeProp(*prop);
    if (auto* feature = std::get_if<yard::GroundFeature>(&copy)) {
      if (!feature->outline.empty()) nudge(feature->outline[pick(feature->outline.size())]);
      feature->blocksLeads = pick(4) != 0;
    }
    if (auto* wall = std::get_if<yard::Wall>(&copy)) nudge(wall->from);
    if (auto* box = std::get_if<yard::Box>(&copy)) nudge(box->at);
    if (auto* run = std::get_if<yard::Run>(&copy)) changeRun(*run);
    if (auto* cable = std::get_if<yard::Cable>(&copy))
      cable->ownLength = {static_cast<std::int64_t>(pick(20)) * kMetre};
    if (auto* supply = std::get_if<yard::Supply>(&copy)) supply->voltage.count += 100'000;
    if (auto* product = std::get_if<yard::Product>(&copy)) product->fullWhite.count += 500;
    if (auto* wire = std::get_if<yard::Wire>(&copy)) wire->perMetre.count += 100;
    if (auto* settings = std::get_if<yard::Settings>(&copy)) settings->slack.count += 10'000;
    if (auto* port = std::get_if<yard::Port>(&copy)) port->number += 20;
    yard.records[id] = std::make_shared<const yard::Record>(std::move(copy));
  }

 private:
  static constexpr std::int64_t kMetre = 1'000'000'000;
  std::size_t pick(std::size_t n) { return random_() % n; }
  void nudge(base::Point& p) {
    p.x.count += (static_cast<std::int64_t>(pick(7)) - 3) * kMetre / 2;
    p.y.count += (static_cast<std::int64_t>(pick(7)) - 3) * kMetre / 2;
  }
  void changeProp(yard::Prop& prop) {
    switch (pick(4)) {
      case 0:
        prop.heading.count += 15'000'000;
        break;
      case 1:
        if (!prop.sizes.empty()) {
          auto size = std::next(prop.sizes.begin(), static_cast<std::ptrdiff_t>(pick(prop.sizes.size())));
          size->second += size->second / (pick(2) == 0 ? 10 : -10);
        }
        break;
      case 2:
        prop.status =
            prop.status == yard::PropStatus::Idea ? yard::PropStatus::Ready : yard::PropStatus::Idea;
        break;
      default:
        nudge(prop.at);
    }
  }
  void changeRun(yard::Run& run) {
    if (run.items.empty()) return;
    const std::size_t i = pick(run.items.size());
    switch (pick(4)) {
      case 0:
        run.items[i].reversed = !run.items[i].reversed;
        break;
      case 1:
        std::swap(run.items[i], run.items[pick(run.items.size())]);
        break;
      case 2: {
        yard::RunItem null;
        null.kind = pick(2) == 0 ? yard::RunItemKind::NullPixel : yard::RunItemKind::Booster;
        run.items.insert(run.items.begin() + static_cast<std::ptrdiff_t>(i), null);
        break;
      }
      default:
        run.items[i].first = run.items[i].first == 0 ? 2 : 0;
    }
  }
  std::mt19937 random_;
};

void expectSameWithAndWithoutOld(const std::string& name, unsigned seed, int edits) {
  yard::Yard yard = sample(name);
  Editor editor(seed);
  AssessmentPtr old = assess(yard);
  int changed = 0;
  for (int i = 0; i < edits; ++i) {
    editor.edit(yard);
    const AssessmentPtr warm = assess(yard, old);
    const std::string cold = figuresOf(*assess(yard));
    ASSERT_EQ(figuresOf(*warm), cold) << name << " edit " << i;
    changed += cold != figuresOf(*old);
    old = warm;
  }
  EXPECT_GT(changed, edits / 3) << "the edits must matter";
}

TEST(Assess, IsTheSameWithAndWithoutAnEarlierAnswer) {
  expectSameWithAndWithoutOld("porch-and-lawn", 1, 60);
  expectSameWithAndWithoutOld("corner-lot", 2, 60);
}

TEST(Assess, LendsWhatDidNotChange) {
  yard::Yard yard = sample("porch-and-lawn");
  const AssessmentPtr old = assess(yard);
  const auto [id, prop] = yard::all<yard::Prop>(yard).front();
  yard::Prop moved = *prop;
  moved.at.x.count += 1'000'000'000;
  yard.records[id] = std::make_shared<const yard::Record>(moved);
  const AssessmentPtr fresh = assess(yard, old);
  EXPECT_EQ(fresh->ground, old->ground);
  for (const auto& [other, shape] : fresh->shapes) {
    if (other != id) {
      EXPECT_EQ(shape, old->shapes.at(other));
    }
  }
}

TEST(Assess, GivesNoAnswerFromAGroundThatChanged) {
  yard::Yard yard = sample("porch-and-lawn");
  const AssessmentPtr old = assess(yard);
  for (const auto& [id, feature] : yard::all<yard::GroundFeature>(yard)) {
    yard.records.erase(id);
    break;
  }
  EXPECT_NE(assess(yard, old)->ground, old->ground);
}

TEST(Assess, ToleratesAnEmptyYardAndKeepsRefusedProps) {
  yard::Yard yard = yard::emptyYard();
  EXPECT_TRUE(assess(yard)->routes.cables.empty());
  yard::Prop broken;
  broken.kind = "no such kind";
  const Id id{yard.nextId++};
  yard.records.emplace(id, std::make_shared<const yard::Record>(broken));
  const AssessmentPtr a = assess(yard);
  EXPECT_TRUE(a->shapeErrors.contains(id));
  EXPECT_TRUE(assess(yard, a)->shapeErrors.contains(id));
}

TEST(Assess, TellsHowManyPixelsNoRunReaches) {
  yard::Yard yard = yard::emptyYard();
  const auto add = [&yard](yard::Record record) {
    const Id id{yard.nextId++};
    yard.records.emplace(id, std::make_shared<const yard::Record>(std::move(record)));
    return id;
  };
  yard::Prop prop = shapes::usualProp("straight_strip");
  const Id wired = add(prop), bare = add(prop);
  prop.status = yard::PropStatus::Idea;
  const Id idea = add(prop);
  yard::Run run;
  run.items.resize(2);
  run.items[0].prop = run.items[1].prop = wired;
  run.items[0].first = 2;
  run.items[0].last = 5;
  run.items[1].first = 4;
  run.items[1].last = 8;
  const Id runId = add(run);
  const AssessmentPtr a = assess(yard);
  const auto count = static_cast<std::int64_t>(a->shapes.at(wired)->pixels.size());
  ASSERT_GT(count, 8);
  EXPECT_EQ(a->unwired.at(wired), count - 7);
  EXPECT_EQ(a->unwired.at(bare), count);
  EXPECT_FALSE(a->unwired.contains(idea));
  EXPECT_TRUE(a->shapes.contains(idea)) << "an idea is still drawn";
  EXPECT_EQ(a->wiredIn.at(wired), (std::vector<std::pair<Id, std::int64_t>>{{runId, 0}, {runId, 1}}));
}

}  // namespace
}  // namespace yw::assess
