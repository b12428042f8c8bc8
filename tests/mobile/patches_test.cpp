#include <gtest/gtest.h>

#include "mobile/patches/patches_model.h"
#include "tests/mobile/trial_course.h"

namespace swardwalk::mobile {
namespace {

QVariant cell(QAbstractItemModel* rows, int row, const QByteArray& column) {
  return rows->data(rows->index(row, 0), rows->roleNames().key(column));
}

// The tablet says what to measure next in the words of the answers, which the review page
// shows, too.
TEST(PatchesPage, SaysUnderAGreenWhatToMeasureNext) {
  Trial trial(Trial::Begin::withCourse);
  PatchesModel model(trial.app().store());
  model.setVisible(true);
  int lines = 0;
  QString green;
  for (int row = 0; row < model.rows()->rowCount(); ++row) {
    const auto sort = cell(model.rows(), row, "sort").value<PatchesModel::Sort>();
    const QString id = cell(model.rows(), row, "id").toString();
    if (sort == PatchesModel::GreenHeading) green = id;
    if (sort != PatchesModel::LookNextLine) continue;
    ++lines;
    EXPECT_EQ(id, green);
    const auto* progress = trial.app().store().greenProgress(id.toStdString());
    ASSERT_NE(progress, nullptr);
    EXPECT_GE(progress->lookNext.size(), 2U);
    EXPECT_LE(progress->lookNext.size(), 3U);
    EXPECT_EQ(cell(model.rows(), row, "second").toString(),
              "Measure next: " + QString::fromStdString(progress->lookNextText));
  }
  EXPECT_GE(lines, 1);
}

}  // namespace
}  // namespace swardwalk::mobile
