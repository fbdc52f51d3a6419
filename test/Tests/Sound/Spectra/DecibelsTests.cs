using Consort.Engine.Sound.Spectra;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound.Spectra;

public sealed class DecibelsTests
{
    [Fact]
    public void The_studios_levels_are_the_published_voltages()
    {
        // IEC 60268 (dBu, dBV), EBU R 68-2000 (alignment at −18 dBFS; full scale at +18 dBu). From memory.
        Expect.Within(0.774596669241, Decibels.VoltsOfDbu(0), 1e-12);
        Expect.Within(1.22765298799, Decibels.VoltsOfDbu(4), 1e-11);
        Expect.Within(0.316227766017, Decibels.VoltsOfDbv(-10), 1e-12);
        Expect.Within(6.15284004902, Decibels.VoltsOfDbu(18), 1e-11);
        Expect.Within(0.125892541, Decibels.Ratio(Decibels.AlignmentDbfs), 1e-9);
        Expect.Within(4, Decibels.Dbu(1.22765298799), 1e-10);
    }
}
