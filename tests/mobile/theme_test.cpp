#include "mobile/app/theme.h"

#include <gtest/gtest.h>

#include <QMetaProperty>

namespace swardwalk::mobile {
namespace {

TEST(Theme, ItsColoursByWeightAreToldAnewWhenItChanges) {
  Theme theme;
  int told = 0;
  QObject::connect(&theme, &Theme::changed, &theme, [&told] { ++told; });
  const QVariantList sun = theme.weights();
  ASSERT_TRUE(theme.setProperty("dark", true));
  EXPECT_EQ(told, 1);
  const QVariantList dark = theme.property("weights").toList();
  ASSERT_EQ(dark.size(), 4);
  for (qsizetype i = 0; i < dark.size(); ++i) EXPECT_NE(dark[i], sun[i]);
  EXPECT_EQ(dark[Show::Stop].value<QColor>(), theme.stop());
  const int property = Theme::staticMetaObject.indexOfProperty("weights");
  EXPECT_TRUE(Theme::staticMetaObject.property(property).hasNotifySignal())
      << "without it pages keep the colours of the theme before";
}

}  // namespace
}  // namespace swardwalk::mobile
