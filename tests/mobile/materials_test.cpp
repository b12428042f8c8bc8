#include <gtest/gtest.h>

#include <boost/json.hpp>

#include "mobile/materials/material_words.h"
#include "tests/mobile/trial_course.h"

// Seed, sand, feed and turf: entered and corrected on the tablet.
namespace swardwalk::mobile {
namespace {

struct Shelf {
  Trial trial{Trial::Begin::withCourse};
  MaterialForm& form = trial.app().material();
  MaterialsModel& list = trial.app().materials();

  Shelf() {
    trial.app().shell().openPage(Shell::Repairs);
    trial.app().repairs().openMaterials();
  }
  QString cell(int row, const char* name) {
    auto* rows = list.rows();
    return rows->data(rows->index(row, 0), rows->roleNames().key(name)).toString();
  }
  /// The words and what is left of a material, as the list shows them.
  QString line(const QString& name) {
    for (int row = 0; row < list.rows()->rowCount(); ++row) {
      if (cell(row, "name") == name) return cell(row, "words") + " | " + cell(row, "remaining");
    }
    return {};
  }
  boost::json::object last(std::string_view type) {
    return boost::json::parse(trial.bodies(type).back()).at("properties").as_object();
  }
  const turf::SeedLot& lot(const std::string& name) {
    for (const turf::SeedLot& one : trial.app().store().state().seedLots) {
      if (one.name == name) return one;
    }
    std::abort();
  }
};

TEST(Materials, AreListedWithTheirLabelAndWhatIsLeft) {
  Shelf on;
  EXPECT_EQ(on.trial.app().shell().task(), Shell::Materials);
  EXPECT_EQ(on.cell(0, "name"), "Seed");
  const QString bent = on.line("Bent 26-4");
  EXPECT_TRUE(bent.startsWith("creeping bentgrass; 98 % pure, 90 % germinate, day of the test"));
  EXPECT_TRUE(bent.contains("packs of 0.25 kg")) << bent.toStdString();
  EXPECT_TRUE(bent.endsWith(" g left")) << bent.toStdString();
  EXPECT_EQ(on.line("Medium sand"),
            "1.55 kg a litre, settles by 10 %; delivered loose | not counted");
  EXPECT_TRUE(on.line("Turf").startsWith("None recorded"));
}

TEST(MaterialForm, SaysWhatIsStillNeeded) {
  Shelf on;
  on.list.add(Shelves::SeedLot);
  EXPECT_EQ(on.trial.app().shell().task(), Shell::Material);
  EXPECT_EQ(on.form.show().missing,
            "Still needed: the name, the grass, the purity, the germination");
  EXPECT_FALSE(on.form.save());
  on.form.setName("Fescue 27");
  on.form.toggleGrass("red fescue");
  on.form.purity()->set(97.5);
  on.form.germination()->set(88);
  EXPECT_TRUE(on.form.show().missing.isEmpty());
}

TEST(MaterialForm, ANewLotIsRecordedAsItsLabelSays) {
  Shelf on;
  on.list.add(Shelves::SeedLot);
  on.form.setName(" Blend 27 ");
  on.form.toggleGrass("creeping bentgrass");
  on.form.toggleGrass("red fescue");
  ASSERT_TRUE(on.form.blend());
  on.form.shareOf("creeping bentgrass")->set(20);
  on.form.shareOf("red fescue")->set(80);
  on.form.purity()->set(97.5);
  on.form.germination()->set(88);
  on.form.setTested("2027-03-01");
  on.form.setPacks("0,25 10");
  on.form.stock()->set(1.5);
  ASSERT_TRUE(on.form.save());
  EXPECT_EQ(on.trial.app().shell().task(), Shell::Materials);
  const auto saved = on.last("seed_lot");
  EXPECT_EQ(saved.at("name").as_string(), "Blend 27");
  EXPECT_DOUBLE_EQ(saved.at("purity").as_double(), 0.975);
  EXPECT_EQ(saved.at("tested").as_string(), "2027-03-01");
  const turf::SeedLot& lot = on.lot("Blend 27");
  ASSERT_EQ(lot.parts.size(), 2U);
  EXPECT_DOUBLE_EQ(lot.parts[0].share + lot.parts[1].share, 1.0);
  EXPECT_EQ(lot.packs.sizes_kg, (std::vector<double>{0.25, 10}));
  EXPECT_EQ(lot.stock_kg, 1.5);
  EXPECT_TRUE(on.line("Blend 27").contains("20 % creeping bentgrass, 80 % red fescue"));
}

TEST(MaterialForm, ACorrectionKeepsWhatWasNotTouched) {
  Shelf on;
  const turf::SeedLot before = on.lot("Bent 26-4");
  on.list.correct(Shelves::SeedLot, "Bent 26-4");
  EXPECT_FALSE(on.form.show().isNew);
  on.form.germination()->set(84);
  ASSERT_TRUE(on.form.save());
  const turf::SeedLot& after = on.lot("Bent 26-4");
  EXPECT_DOUBLE_EQ(after.germination, 0.84);
  EXPECT_EQ(after.purity, before.purity);
  EXPECT_EQ(after.parts[0].species, before.parts[0].species);
  EXPECT_EQ(after.packs.sizes_kg, before.packs.sizes_kg);
}

TEST(MaterialForm, WhatWasUsedStaysUsedWhenTheLabelIsCorrected) {
  Shelf on;
  const auto left = [&] { return on.line("Bent 26-4").section('|', 1); };
  const QString before = left();
  for (const double germination : {84.0, 86.0}) {
    on.trial.wait(std::chrono::minutes(5));
    on.list.correct(Shelves::SeedLot, "Bent 26-4");
    on.form.germination()->set(germination);
    ASSERT_TRUE(on.form.save());
    EXPECT_EQ(left(), before);
  }
  // The second correction found a count with a time, and left it alone.
  const auto bodies = on.trial.bodies("seed_lot");
  const auto counted = [](const std::string& body) {
    return boost::json::serialize(boost::json::parse(body).at("properties").at("counted"));
  };
  EXPECT_EQ(counted(bodies.back()), counted(bodies[bodies.size() - 2]));
}

TEST(MaterialForm, AFreshCountIsWhatIsThere) {
  Shelf on;
  on.list.correct(Shelves::SeedLot, "Bent 26-4");
  EXPECT_TRUE(on.form.show().left.endsWith("left"));
  on.form.stock()->set(0.4);
  ASSERT_TRUE(on.form.save());
  EXPECT_TRUE(on.line("Bent 26-4").endsWith("400 g left")) << on.line("Bent 26-4").toStdString();
}

TEST(MaterialForm, SandWithoutACountStaysUncounted) {
  Shelf on;
  on.list.correct(Shelves::Fill, "Medium sand");
  on.form.settles()->set(12);
  ASSERT_TRUE(on.form.save());
  EXPECT_TRUE(on.line("Medium sand").startsWith("1.55 kg a litre, settles by 12 %"));
  EXPECT_TRUE(on.line("Medium sand").endsWith("not counted"));
  EXPECT_FALSE(on.last("fill").contains("counted"));
}

TEST(MaterialForm, TurfIsOfOneGrass) {
  Shelf on;
  on.list.add(Shelves::Turf);
  on.form.setName("Sand grown");
  on.form.toggleGrass("creeping bentgrass");
  on.form.toggleGrass("red fescue");
  on.form.thickness()->set(20);
  on.form.piece()->set(0.04);
  on.form.turfStock()->set(2);
  ASSERT_TRUE(on.form.save());
  EXPECT_EQ(on.line("Sand grown"), "red fescue, 20 mm thick, pieces of 0.04 m² | 2.00 m² left");
}

struct Slip {
  const char* name;
  Shelves::Shelf shelf;
  void (*enter)(MaterialForm& form);
  const char* words;
};

class Slips : public testing::TestWithParam<Slip> {};

TEST_P(Slips, AreSaidAndWriteNothing) {
  Shelf on;
  const std::uint64_t before = on.trial.app().store().journal().changeCount();
  on.list.add(GetParam().shelf);
  on.form.setName("New");
  on.form.toggleGrass("creeping bentgrass");
  on.form.purity()->set(98);
  on.form.germination()->set(90);
  GetParam().enter(on.form);
  EXPECT_FALSE(on.form.save());
  const AdviceText& trouble = on.form.show().trouble;
  EXPECT_TRUE((trouble.title + ' ' + trouble.reason).contains(GetParam().words))
      << trouble.title.toStdString() << ' ' << trouble.reason.toStdString();
  EXPECT_EQ(on.trial.app().store().journal().changeCount(), before);
}

INSTANTIATE_TEST_SUITE_P(
    Labels, Slips,
    testing::Values(
        Slip{"Day", Shelves::SeedLot, [](MaterialForm& form) { form.setTested("1 March"); },
             "cannot be read: 1 March"},
        Slip{"Packs", Shelves::SeedLot, [](MaterialForm& form) { form.setPacks("two bags"); },
             "cannot be read: two bags"},
        Slip{"Seeds", Shelves::SeedLot, [](MaterialForm& form) { form.seedsLow()->set(14000); },
             "one number is missing"},
        Slip{"Shares", Shelves::SeedLot,
             [](MaterialForm& form) {
               form.toggleGrass("red fescue");
               form.shareOf("creeping bentgrass")->set(50);
               form.shareOf("red fescue")->set(40);
             },
             "90 % together"},
        Slip{"Analysis", Shelves::Feed, [](MaterialForm& form) { form.nitrogen()->set(6); },
             "art of the analysis is missing"},
        // The rule of the record itself.
        Slip{"Sum", Shelves::Feed,
             [](MaterialForm& form) {
               for (NumberField* part : {form.nitrogen(), form.phosphate(), form.potash()})
                 part->set(50);
             },
             "ore than 100 % together"},
        Slip{"Twice", Shelves::SeedLot, [](MaterialForm& form) { form.setName("Bent 26-4"); },
             "in the list already"}),
    [](const testing::TestParamInfo<Slip>& slip) { return slip.param.name; });

TEST(MaterialWords, PacksAreReadAsTyped) {
  EXPECT_EQ(readPacks(" 0.25  1; 10 "), (std::vector<double>{0.25, 1, 10}));
  EXPECT_EQ(readPacks("0,5"), (std::vector<double>{0.5}));
  EXPECT_EQ(readPacks(""), std::vector<double>{});
  for (const char* nonsense : {"0", "-1", "nan", "inf", "1kg", "1 x"}) {
    EXPECT_FALSE(readPacks(nonsense)) << nonsense;
  }
}

}  // namespace
}  // namespace swardwalk::mobile
