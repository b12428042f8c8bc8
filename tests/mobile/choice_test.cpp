#include <gtest/gtest.h>

#include <boost/json.hpp>

#include "tests/mobile/trial_course.h"

// A person decides otherwise than the plan.
namespace swardwalk::mobile {
namespace {

struct Choosing {
  Trial trial{Trial::Begin::withCourse};
  ChoiceModel& model = trial.app().choice();

  Choosing() {
    trial.app().patch().open("p10");
    trial.app().patch().choose();
  }

  QVariant cell(int row, const char* name) {
    auto* cards = model.cards();
    return cards->data(cards->index(row, 0), cards->roleNames().key(name));
  }
  int card(const QString& title) {
    for (int row = 0; row < model.cards()->rowCount(); ++row) {
      if (cell(row, "title").toString() == title) return row;
    }
    return -1;
  }
  const answers::PlannedPatch& planned() {
    for (const answers::PlannedPatch& one : trial.app().store().plan().patches) {
      if (one.patch == "p10") return one;
    }
    std::abort();
  }
};

TEST(Choice, OpensWithWhatThePlanHolds) {
  Choosing on;
  EXPECT_EQ(on.trial.app().shell().task(), Shell::Choose);
  EXPECT_EQ(on.model.show().title, "Choose for Hollow 10");
  EXPECT_EQ(on.model.show().by, "computed");
  EXPECT_FALSE(on.model.show().canFollow);
  const int held = on.card(text(on.planned().choiceText));
  ASSERT_GE(held, 0);
  EXPECT_TRUE(on.cell(held, "picked").toBool());
  EXPECT_EQ(on.cell(held, "mark").toString(), "in the plan");
}

TEST(Choice, WhatIsPickedIsRecordedWithWhoAndWhy) {
  Choosing on;
  on.model.pick(on.card("Look again"));
  on.model.toggleWho("Ansa");
  on.model.setWhy(" The drain was dug up ");
  EXPECT_EQ(on.model.show().summary, "Look again, by Ansa");
  ASSERT_TRUE(on.model.save());
  EXPECT_EQ(on.trial.app().shell().task(), Shell::NoTask);
  const auto saved = boost::json::parse(on.trial.bodies("choice").back()).at("properties");
  EXPECT_EQ(saved.at("choice").as_string(), "look again");
  EXPECT_EQ(saved.at("who").as_string(), "Ansa");
  EXPECT_EQ(saved.at("why").as_string(), "The drain was dug up");
  EXPECT_EQ(on.planned().choice, repair::Choice::lookAgain);
  EXPECT_TRUE(on.planned().chosenByPerson);
  EXPECT_EQ(on.planned().reason, "The drain was dug up.");
}

TEST(Choice, ANameThatIsTappedTwiceIsNamedNoMore) {
  Choosing on;
  ASSERT_TRUE(on.model.show().names.contains("Ansa"));
  on.model.toggleWho("Ansa");
  on.model.toggleWho("Ansa");
  EXPECT_TRUE(on.model.who().isEmpty());
  EXPECT_TRUE(on.model.show().summary.endsWith("nobody named for it"));
}

TEST(Choice, WhatIsNotPossibleCannotBePicked) {
  Choosing on;
  const int turf = on.card("Turf");  // none is recorded on this course
  ASSERT_GE(turf, 0);
  ASSERT_FALSE(on.cell(turf, "possible").toBool());
  EXPECT_FALSE(on.cell(turf, "lines").toString().isEmpty()) << "it says why not";
  const QString before = on.model.show().summary;
  on.model.pick(turf);
  EXPECT_EQ(on.model.show().summary, before);
}

TEST(Choice, ThePlanIsFollowedAgain) {
  Choosing on;
  const repair::Choice computed = on.planned().choice;
  on.model.pick(on.card("Mend the cause first"));
  ASSERT_TRUE(on.model.save());
  on.trial.app().patch().choose();
  EXPECT_TRUE(on.model.show().canFollow);
  EXPECT_EQ(on.model.show().by, "chosen by Ansa");
  ASSERT_TRUE(on.model.followPlan());
  EXPECT_EQ(on.planned().choice, computed);
  EXPECT_FALSE(on.planned().chosenByPerson);
}

TEST(Choice, BackSavesNothing) {
  Choosing on;
  on.model.pick(on.card("Look again"));
  on.model.back();
  EXPECT_TRUE(on.trial.bodies("choice").empty());
  EXPECT_EQ(on.trial.app().shell().task(), Shell::NoTask);
}

TEST(Repairs, WhoIsToDoItStandsInTheList) {
  Choosing on;
  on.model.pick(on.card(text(on.planned().choiceText)));
  on.model.setWho("Tess");
  ASSERT_TRUE(on.model.save());
  on.trial.app().shell().openPage(Shell::Repairs);
  auto* rows = on.trial.app().repairs().rows();
  bool found = false;
  for (int row = 0; row < rows->rowCount(); ++row) {
    const auto cell = [&](const char* name) {
      return rows->data(rows->index(row, 0), rows->roleNames().key(name)).toString();
    };
    if (cell("id") == "p10") found = cell("second").endsWith("for Tess");
  }
  EXPECT_TRUE(found);
}

TEST(Repairs, TheCartAndTheNitrogenStandBelowTheList) {
  Trial trial(Trial::Begin::withCourse);
  trial.app().shell().openPage(Shell::Repairs);
  RepairsModel& repairs = trial.app().repairs();
  const answers::Plan& plan = trial.app().store().plan();
  ASSERT_FALSE(plan.loads.empty());
  auto* loads = repairs.loads();
  ASSERT_EQ(loads->rowCount(), static_cast<int>(plan.loads.size()));
  const auto first = [](QAbstractItemModel* rows, const char* name) {
    return rows->data(rows->index(0, 0), rows->roleNames().key(name));
  };
  EXPECT_EQ(first(loads, "title").toString(), "Load 1, Hollow");
  EXPECT_EQ(first(loads, "weight").value<WrittenText>().figure,
            text(plan.loads.front().text.figure));
  EXPECT_EQ(first(loads, "labels").toString(), text(plan.loads.front().labels));
  ASSERT_EQ(repairs.hunger()->rowCount(), static_cast<int>(plan.nitrogen.size()));
  ASSERT_FALSE(plan.nitrogen.empty()) << "Hollow 3 is hungry";
  EXPECT_EQ(first(repairs.hunger(), "title").toString(), "Nitrogen on Hollow");
  EXPECT_TRUE(first(repairs.hunger(), "advice")
                  .toString()
                  .contains(text(plan.nitrogen.front().hungry.front())));
}

}  // namespace
}  // namespace swardwalk::mobile
