using Consort.Engine.Design;
using Consort.Engine.Scope;
using Xunit;

namespace Consort.Tests.Scope;

public sealed class TriggerTests
{
    [Theory]
    [InlineData("falling through 2.5 V on lead/saw core", false, 2.5, "lead/saw core")]
    [InlineData("rising", true, null, null)]
    [InlineData("falling on second/saw", false, null, "second/saw")]
    [InlineData("through -300 mV", true, -0.3, null)]
    public void A_trigger_is_read_with_any_of_its_parts_left_out(string text, bool rising, double? level, string? channel)
    {
        (Trigger? trigger, WordFault? fault) = Trigger.Read(text);
        Assert.Null(fault);
        Assert.Equal(new Trigger(rising, level, channel), trigger);
    }

    [Theory]
    [InlineData("upward through 2 V")]
    [InlineData("rising through 2")]
    [InlineData("rising through 2 kHz on lead/saw")]
    public void What_cannot_be_understood_is_told_with_a_mend(string text)
    {
        (Trigger? trigger, WordFault? fault) = Trigger.Read(text);
        Assert.Null(trigger);
        Assert.NotEmpty(fault!.Mend);
    }
}
