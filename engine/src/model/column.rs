//! The columns that the tables of a study may have.

use std::fmt;

macro_rules! columns {
    ($($column:ident $name:literal),+ $(,)?) => {
        /// A column, in whichever table it stands.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum Column {
            $(#[doc = concat!("`", $name, "`.")] $column),+
        }

        impl Column {
            /// How many there are.
            pub const COUNT: usize = [$($name),+].len();

            const ALL: [Column; Column::COUNT] = [$(Column::$column),+];

            /// Its name, as the user writes it.
            pub const fn name(self) -> &'static str {
                match self { $(Column::$column => $name),+ }
            }
        }
    };
}

columns! {
    Id "id", Worker "worker", Task "task", Tube "tube", Pump "pump", Start "start", Strokes "strokes",
    Reading "reading", Unit "unit", Lot "lot", Temperature "temperature", Humidity "humidity",
    Pressure "pressure", PreTube "pre_tube", Colour "colour", ReadAfter "read_after", Purpose "purpose",
    Place "place", Present "present", Note "note", End "end", Shift "shift", Minutes "minutes", At "at",
    Passed "passed", Group "group",
}

impl Column {
    /// The column called `name`.
    pub fn called(name: &str) -> Option<Column> {
        Self::ALL.into_iter().find(|column| column.name() == name)
    }
}

impl fmt::Display for Column {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// Which field of a row holds which column. Every row is asked for every column that there could be, most of which its table does
/// not have.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Cells([Option<u16>; Column::COUNT]);

impl Cells {
    /// Says that `column` lies in `field`.
    pub fn add(&mut self, column: Column, field: u16) {
        self.0[column as usize] = Some(field);
    }

    /// The field that holds `column`.
    #[inline]
    pub fn field(&self, column: Column) -> Option<u16> {
        self.0[column as usize]
    }

    /// The fields that hold a column.
    pub fn fields(&self) -> impl Iterator<Item = u16> {
        self.0.iter().copied().flatten()
    }
}
