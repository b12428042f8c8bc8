#include <gtest/gtest.h>

#include <boost/json.hpp>

#include "tests/mobile/trial_course.h"

namespace swardwalk::mobile {
namespace {

boost::json::object properties(const std::string& body) {
  return boost::json::parse(body).at("properties").as_object();
}

/// A planned patch that has amounts.
const answers::PlannedPatch* workWithAmounts(Trial& trial) {
  for (const answers::PlannedPatch& one : trial.app().store().plan().patches) {
    if (isWork(one.choice) && (one.seed_g || one.feed_g || one.fill_l || one.turf_m2)) return &one;
  }
  return nullptr;
}

TEST(Repairs, ATickWritesTheRepairWithThePlannedAmounts) {
  Trial trial(Trial::Begin::withCourse);
  trial.app().shell().openPage(Shell::Repairs);
  const auto* work = workWithAmounts(trial);
  ASSERT_NE(work, nullptr);
  const answers::PlannedPatch planned = *work;
  ASSERT_TRUE(trial.app().repairs().doneAsPlanned(text(planned.patch)));
  const auto saved = properties(trial.bodies("repair").back());
  EXPECT_EQ(saved.at("patch").as_string(), planned.patch);
  const auto amount = [&](const char* key) -> std::optional<double> {
    if (!saved.contains(key)) return std::nullopt;
    return saved.at(key).to_number<double>();
  };
  const auto value = [](const std::optional<measure::Measured>& measured) {
    return measured ? std::optional<double>(measured->value) : std::nullopt;
  };
  EXPECT_EQ(amount("seed_g"), value(planned.seed_g));
  EXPECT_EQ(amount("fill_l"), value(planned.fill_l));
  EXPECT_EQ(amount("feed_g"), value(planned.feed_g));
  EXPECT_EQ(amount("turf_m2"), value(planned.turf_m2));
}

TEST(Repairs, WhatWasDoneTodayIsTickedAndCanBeTakenBack) {
  Trial trial(Trial::Begin::withCourse);
  trial.app().shell().openPage(Shell::Repairs);
  const auto* work = workWithAmounts(trial);
  ASSERT_NE(work, nullptr);
  const QString patch = text(work->patch);
  const QString before = trial.app().repairs().second();
  ASSERT_TRUE(before.startsWith("0 of"));
  ASSERT_TRUE(trial.app().repairs().doneAsPlanned(patch));
  EXPECT_TRUE(trial.app().repairs().second().startsWith("1 of"));
  trial.app().repairs().choose(patch);
  EXPECT_TRUE(trial.app().repairs().next().done);
  ASSERT_TRUE(trial.app().repairs().act());
  EXPECT_EQ(trial.app().repairs().second(), before);
}

TEST(RepairForm, ProposesWhatThePlanSaysAndSavesWhatWasDone) {
  Trial trial(Trial::Begin::withCourse);
  const auto* work = workWithAmounts(trial);
  ASSERT_NE(work, nullptr);
  const answers::PlannedPatch planned = *work;
  trial.app().patch().open(planned.patch);
  trial.app().patch().repairDone();
  ASSERT_EQ(trial.app().shell().task(), Shell::Repair);
  RepairForm& form = trial.app().repairForm();
  EXPECT_EQ(form.seed()->known(), planned.seed_g.has_value());
  form.toggleRakedBack();
  form.chooseSeedLot("Bent 26-4");
  form.seed()->set(22);
  form.fill()->set(0);
  ASSERT_TRUE(form.save());
  const auto saved = properties(trial.bodies("repair").back());
  EXPECT_TRUE(saved.at("raked_back").as_bool());
  EXPECT_EQ(saved.at("seed_lot").as_string(), "Bent 26-4");
  EXPECT_DOUBLE_EQ(saved.at("seed_g").to_number<double>(), 22);
  EXPECT_FALSE(saved.contains("fill_l")) << "0 l is no filling";
  EXPECT_EQ(trial.app().shell().task(), Shell::NoTask);
}

TEST(RepairForm, NothingEnteredCannotBeSaved) {
  Trial trial(Trial::Begin::withCourse);
  RepairForm& form = trial.app().repairForm();
  form.begin("p1");
  for (NumberField* field : {form.fill(), form.seed(), form.turf(), form.feed()}) field->set({});
  EXPECT_FALSE(form.show().canSave);
  EXPECT_EQ(form.show().summary, "Nothing entered yet");
}

TEST(Patches, LateOnesComeFirstAndClosedOnesInOneLine) {
  Trial trial(Trial::Begin::withCourse);
  trial.app().shell().openPage(Shell::Patches);
  auto* rows = trial.app().patches().rows();
  const auto roles = rows->roleNames();
  const auto cell = [&](int row, const char* name) {
    return rows->data(rows->index(row, 0), roles.key(name));
  };
  EXPECT_EQ(cell(0, "title").toString(), "Hollow");
  bool calmSeen = false;
  bool closedLine = false;
  for (int row = 1; row < rows->rowCount(); ++row) {
    const auto sort = cell(row, "sort").value<PatchesModel::Sort>();
    if (sort == PatchesModel::GreenHeading) break;
    if (sort == PatchesModel::LookNextLine) continue;
    if (sort == PatchesModel::ClosedLine) {
      closedLine = true;
      EXPECT_TRUE(cell(row, "title").toString().startsWith("1 closed"));
      continue;
    }
    const bool late = cell(row, "look").value<SymbolLook>().late;
    if (!late) calmSeen = true;
    EXPECT_FALSE(late && calmSeen) << "a late one below one that is in time";
  }
  EXPECT_TRUE(closedLine);
}

TEST(Patches, AFilterLeavesOneKind) {
  Trial trial(Trial::Begin::withCourse);
  trial.app().shell().openPage(Shell::Patches);
  trial.app().patches().filterBy(Show::Hungry);
  auto* rows = trial.app().patches().rows();
  ASSERT_EQ(rows->rowCount(), 2);
  EXPECT_EQ(rows->data(rows->index(1, 0), rows->roleNames().key("title")).toString(), "Hollow 3");
}

TEST(Patch, ClosedAndCameUpAreRecorded) {
  Trial trial(Trial::Begin::withCourse);
  trial.app().patch().open("p5");
  ASSERT_TRUE(trial.app().patch().itIsClosed());
  EXPECT_EQ(properties(trial.bodies("closed").back()).at("patch").as_string(), "p5");
  EXPECT_FALSE(trial.app().patch().show().open);
  trial.app().patch().open("p4");
  EXPECT_TRUE(trial.app().patch().show().sown);
  ASSERT_TRUE(trial.app().patch().cameUp());
  EXPECT_EQ(properties(trial.bodies("came_up").back()).at("patch").as_string(), "p4");
  ASSERT_TRUE(trial.app().patch().takeBack());
}

TEST(Patch, ChartIsThereInBothThemes) {
  Trial trial(Trial::Begin::withCourse);
  trial.app().patch().open("p7");
  const QString sun = trial.app().patch().show().chart;
  EXPECT_TRUE(sun.startsWith("data:image/svg+xml;base64,"));
  trial.app().shell().setDark(true);
  EXPECT_NE(trial.app().patch().show().chart, sun);
}

}  // namespace
}  // namespace swardwalk::mobile
