#include "common/measure/write.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace swardwalk::measure {
namespace {

std::string metric(Measured measured, Quantity quantity = Quantity::area) {
  return write(measured, quantity, UnitSystem::metric).text();
}

std::string imperial(Measured measured, Quantity quantity = Quantity::area) {
  return write(measured, quantity, UnitSystem::imperial).text();
}

TEST(Write, FigureDoubtAndUnitStandApart) {
  const Written written = write({1.8412, 0.123}, Quantity::area, UnitSystem::metric);
  EXPECT_EQ(written.figure, "1.84");
  EXPECT_EQ(written.doubt, "± 0.12");
  EXPECT_EQ(written.unit, "m²");
  EXPECT_EQ(written.text(), "1.84 ± 0.12 m²");
}

TEST(Write, OneDigitOfDoubtFromThreeOnTwoBelow) {
  EXPECT_EQ(metric({1.8412, 0.29}), "1.84 ± 0.29 m²");
  EXPECT_EQ(metric({1.8412, 0.30}), "1.8 ± 0.3 m²");
  EXPECT_EQ(metric({1.8412, 0.94}), "1.8 ± 0.9 m²");
  EXPECT_EQ(metric({1.8412, 0.96}), "1.8 ± 1.0 m²");
  EXPECT_EQ(metric({1.8412, 0.0296}), "1.841 ± 0.030 m²");
  EXPECT_EQ(metric({1.8412, 2.0}), "1.8 ± 2.0 m²");
}

TEST(Write, WholeTensAndHundredsHaveNoFalseDigits) {
  EXPECT_EQ(metric({12345.0, 154.0}), "12350 ± 150 m²");
  EXPECT_EQ(metric({12345.0, 420.0}), "12300 ± 400 m²");
  EXPECT_EQ(metric({512.3, 12.0}), "512 ± 12 m²");
}

TEST(Write, PowersOfTenAreNotTakenForTheOneBelow) {
  EXPECT_EQ(metric({5.0, 0.001}), "5.0000 ± 0.0010 m²");
  EXPECT_EQ(metric({5.0, 0.1}), "5.00 ± 0.10 m²");
  EXPECT_EQ(metric({5000.0, 1000.0}), "5000 ± 1000 m²");
}

TEST(Write, Q1WithoutAnUncertaintyThereIsNoDoubtAndThreeDigits) {
  const Written written = write({1.8412, std::nullopt}, Quantity::area, UnitSystem::metric);
  EXPECT_EQ(written.figure, "1.84");
  EXPECT_EQ(written.doubt, "");
  EXPECT_EQ(metric({512.3, std::nullopt}), "512 m²");
  EXPECT_EQ(metric({51234.0, std::nullopt}), "51200 m²");
  EXPECT_EQ(metric({0.012345, std::nullopt}), "0.0123 m²");
  EXPECT_EQ(metric({0.0, std::nullopt}), "0 m²");
}

TEST(Write, ExactNumbersSayThatThereIsNoDoubt) {
  EXPECT_EQ(metric(exact(0.0)), "0 ± 0 m²");
  EXPECT_EQ(metric(exact(2.5)), "2.5 ± 0 m²");
  EXPECT_EQ(metric(exact(8.0), Quantity::areaRate), "8 ± 0 g/m²");
  EXPECT_EQ(metric(exact(1200.0)), "1200 ± 0 m²");
}

TEST(Write, ADoubtLargerThanTheFigureLeavesZero) {
  EXPECT_EQ(metric({0.03, 5.0}), "0 ± 5 m²");
  EXPECT_EQ(metric({-0.03, 5.0}), "0 ± 5 m²");
  EXPECT_EQ(metric({0.0, 0.12}), "0.00 ± 0.12 m²");
}

TEST(Write, NegativeNumbersHaveAMinus) {
  EXPECT_EQ(metric({-0.62, 0.3}, Quantity::creep), "−0.6 ± 0.3 mm a day");
}

TEST(Write, NothingIsFinerThanTheFinestPlaceAndNoDoubtIsWrittenAsNone) {
  EXPECT_EQ(metric({1.84, 1e-9}), "1.8400 ± 0.0001 m²");
  EXPECT_EQ(metric({0.004, std::nullopt}, Quantity::seedMass), "0.00 g");
  EXPECT_EQ(metric({0.04321, 0.0061}, Quantity::seedMass), "0.04 ± 0.01 g");
  EXPECT_EQ(metric({14.7, 2.1}, Quantity::seedMass), "14.7 ± 2.1 g");
}

TEST(Write, WhatIsNoNumberIsNotKnown) {
  for (const double value : {std::nan(""), std::numeric_limits<double>::infinity(), 1e12, -1e300}) {
    const Written written = write({value, 0.1}, Quantity::area, UnitSystem::metric);
    EXPECT_EQ(written.text(), "not known") << value;
  }
  EXPECT_EQ(metric({1.84, std::nan("")}), "1.84 m²");
  EXPECT_EQ(metric({1.84, std::numeric_limits<double>::infinity()}), "1.84 m²");
}

TEST(Write, NeverHasAnExponent) {
  for (double size = 1e-300; size < 1e15; size *= 7.3) {
    for (const std::optional<double> u :
         {std::optional<double>(), std::optional(0.0), std::optional(size), std::optional(1e-3)}) {
      for (const double sign : {1.0, -1.0}) {
        const std::string text = metric({sign * size, u}, Quantity::length);
        EXPECT_EQ(text.find('e'), std::string::npos) << text;
        EXPECT_LT(text.size(), 40U) << text;
        EXPECT_EQ(text.find("−0 "), std::string::npos) << text;
      }
    }
  }
}

TEST(Write, ImperialIsConvertedBeforeItIsRounded) {
  // Exact factors: NIST SP 811; the products worked by hand.
  EXPECT_EQ(imperial({9.290304, 0.9290304}), "100 ± 10 ft²");
  EXPECT_EQ(imperial({0.3048 * 12.0, std::nullopt}, Quantity::length), "12.0 ft");
  EXPECT_EQ(imperial({25.4, 2.54}, Quantity::depth), "1.00 ± 0.10 in");
  EXPECT_EQ(imperial({28.349523125, 2.8349523125}, Quantity::seedMass), "1.00 ± 0.10 oz");
  EXPECT_EQ(imperial({0.45359237 * 5.0, std::nullopt}, Quantity::fillMass), "5.00 lb");
  EXPECT_EQ(imperial({3.785411784, std::nullopt}, Quantity::volume), "1.00 US gal");
  EXPECT_EQ(imperial({4.88242763638305, 0.488242763638305}, Quantity::areaRate),
            "1.00 ± 0.10 lb/1000 ft²");
  EXPECT_EQ(imperial({0.30515172727394, std::nullopt}, Quantity::smallRate), "1.00 oz/1000 ft²");
  EXPECT_EQ(imperial({12.7, std::nullopt}, Quantity::rain), "0.50 in");
  EXPECT_EQ(imperial({0.6, 0.3}, Quantity::creep), "0.024 ± 0.012 in a day");
}

TEST(Write, TemperatureIsMovedAsWellAsStretched) {
  EXPECT_EQ(imperial({20.0, 0.5}, Quantity::temperature), "68.0 ± 0.9 °F");
  EXPECT_EQ(imperial({-40.0, std::nullopt}, Quantity::temperature), "−40.0 °F");
  EXPECT_EQ(metric({20.0, 0.5}, Quantity::temperature), "20.0 ± 0.5 °C");
}

TEST(Write, SharesAreInPerCentInBothSystems) {
  EXPECT_EQ(metric({0.0121, 0.0008}, Quantity::share), "1.21 ± 0.08 %");
  EXPECT_EQ(imperial({0.0121, 0.0008}, Quantity::share), "1.21 ± 0.08 %");
}

TEST(WriteChance, OfAForecastIsNeverCertain) {
  EXPECT_EQ(writeChance(0.83), "83 %");
  EXPECT_EQ(writeChance(0.0004), "under 1 %");
  EXPECT_EQ(writeChance(0.9996), "over 99 %");
  EXPECT_EQ(writeChance(0.0), "under 1 %");
  EXPECT_EQ(writeChance(1.0), "over 99 %");
  EXPECT_EQ(writeChance(std::nan("")), "not known");
  EXPECT_EQ(writeChance(1.2), "not known");
}

TEST(WriteShare, ReachesBothEnds) {
  EXPECT_EQ(writeShare(0.0), "0 %");
  EXPECT_EQ(writeShare(0.704), "70 %");
  EXPECT_EQ(writeShare(1.0), "100 %");
  EXPECT_EQ(writeShare(std::nan("")), "not known");
  EXPECT_EQ(writeShare(-0.1), "not known");
}

TEST(Units, ARoundTripKeepsEveryShownDigit) {
  for (const UnitSystem system : {UnitSystem::metric, UnitSystem::imperial}) {
    for (int i = 0; i <= static_cast<int>(Quantity::share); ++i) {
      const auto quantity = static_cast<Quantity>(i);
      EXPECT_FALSE(unitText(quantity, system).empty());
      for (const double shown : {0.0, 0.01, 1.84, 12.7, 999.99}) {
        const double back = inUnit(fromUnit(shown, quantity, system), quantity, system);
        // Four roundings of a double, far below any shown digit.
        EXPECT_NEAR(back, shown, 1e-12 * (shown + 100.0)) << i << ' ' << shown;
      }
    }
  }
}

}  // namespace
}  // namespace swardwalk::measure
