using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Processing.Contract;
using Xunit;

namespace LiveStems.Tests.Engine.Hosting;

public class DescriptionTextTests
{
    [Fact]
    public void WhatPeopleReadOfAProcessorOfOthersIsPlainText()
    {
        ProcessorDescription told = new(
            "tide-gate",
            "Tide\u202e gate",
            3,
            "Lets\nnothing through.\u001b[2J",
            [ParameterSpec.Choice("mode", "Mo\u200bde", ["ebb", "fl\u0007ood"], 1, "Which\tway.")],
            ListensToKey: true);
        ProcessorDescription read = Assert.Single(DescriptionText.Read(DescriptionText.Write([told])));
        Assert.Equal(("tide-gate", "Tide\ufffd gate", 3, "Lets nothing through.\ufffd[2J", true), (read.Id, read.Name, read.Version, read.Purpose, read.ListensToKey));
        ParameterSpec mode = Assert.Single(read.Parameters);
        Assert.Equal(("mode", "Mo\ufffdde", 1.0, "Which way."), (mode.Id, mode.Name, mode.Default, mode.Description));
        Assert.Equal(["ebb", "fl\ufffdood"], mode.Choices);
    }
}
